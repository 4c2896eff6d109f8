package stakeout

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

func at1(name string, x, y float64) trace.Feature {
	return trace.Feature{Name: name, Path: []geo.XY{{X: x, Y: y}}}
}

// arcs are the two places at given distances from two others: the intersection
// of two circles (Euclid; the formula is that of any book of surveying).
func arcs(a, b geo.XY, ra, rb float64) [2]geo.XY {
	d := a.Dist(b)
	along := (ra*ra - rb*rb + d*d) / (2 * d)
	up := math.Sqrt(math.Max(0, ra*ra-along*along))
	u := b.Sub(a).Scale(1 / d)
	n := geo.XY{X: -u.Y, Y: u.X} // to the left of the way from a to b
	foot := a.Add(u.Scale(along))
	return [2]geo.XY{foot.Add(n.Scale(up)), foot.Sub(n.Scale(up))}
}

// Whoever swings the two arcs and follows the side, or the third distance,
// stands on the place again.
func TestTiesFindThePlaceAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-30, 30)
		q := geo.XY{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}
		var features []trace.Feature
		where := map[string]geo.XY{}
		for i := range rapid.IntRange(2, 5).Draw(t, "features") {
			f := at1(string(rune('A'+i)), coord.Draw(t, "fx"), coord.Draw(t, "fy"))
			features, where[f.Name] = append(features, f), f.Path[0]
		}
		ties := tiesOf(features, q)
		if len(ties) < 2 || ties[0].Weak {
			t.Skip("no pair that fixes the place")
		}
		met := arcs(where[ties[0].Feature], where[ties[1].Feature], ties[0].DistanceM, ties[1].DistanceM)
		got := met[0]
		if len(ties) == 2 {
			if ties[0].Side == trace.Right {
				got = met[1]
			}
		} else if miss := func(p geo.XY) float64 {
			return math.Abs(p.Dist(where[ties[2].Feature]) - ties[2].DistanceM)
		}; miss(met[1]) < miss(met[0]) {
			got = met[1]
		}
		if off := got.Dist(q); off > 1e-3 {
			t.Fatalf("%.4f m off with %+v", off, ties)
		}
	})
}

func TestTiesChooseTheSquareAngle(t *testing.T) {
	// A triangle of 3, 4 and 5: from the right angle the arms are 3 and 4 m long.
	fs := []trace.Feature{at1("flat", -3.2, 0.1), at1("three", 3, 0), at1("four", 0, 4), at1("far", 80, 80)}
	ties := tiesOf(fs, geo.XY{})
	var names []string
	for _, x := range ties {
		names = append(names, x.Feature)
	}
	if !slices.Contains(names[:2], "four") || slices.Contains(names, "far") || ties[0].Weak {
		t.Errorf("ties %+v", ties)
	}
	words := TieWords(geo.Metric, tiesOf(fs[1:3], geo.XY{}))
	if words != "3.00 m from three; 4.00 m from four (left of the way from three to four)" {
		t.Errorf("words %q", words)
	}
	if us := TieWords(geo.US, tiesOf(fs[1:3], geo.XY{})); !strings.HasPrefix(us, "9 ft 10 in from three; 13 ft 1 in from four") {
		t.Errorf("words %q", us)
	}
}

// What fixes no place says so, and never looks like what does.
func TestPoorTiesSaySo(t *testing.T) {
	one := TieWords(geo.Metric, tiesOf([]trace.Feature{at1("A", 3, 0)}, geo.XY{}))
	flat := TieWords(geo.Metric, tiesOf([]trace.Feature{at1("A", 10, 0.5), at1("B", -12, 0.5)}, geo.XY{}))
	if !strings.Contains(one, "fixes no place") || !strings.Contains(flat, "poorly") || TieWords(geo.Metric, tiesOf(nil, geo.XY{})) != "" {
		t.Errorf("one: %q, flat: %q", one, flat)
	}
}

// Off a kerb the tape is held square, and beyond its end not at all.
func TestTiesOffAKerb(t *testing.T) {
	kerb := trace.Feature{Name: "kerb", Path: []geo.XY{{X: 0, Y: 2}, {X: 20, Y: 2}}}
	ties := tiesOf([]trace.Feature{kerb, at1("pole", 9, 0)}, geo.XY{X: 5, Y: 0})
	if len(ties) != 2 {
		t.Fatalf("%+v", ties)
	}
	for _, x := range ties {
		if x.Feature == "kerb" && (math.Abs(x.DistanceM-2) > 1e-9 || math.Abs(x.AlongM-5) > 1e-9) {
			t.Errorf("kerb %+v", x)
		}
	}
	if got := TieWords(geo.Metric, ties); !strings.Contains(got, "2.00 m square off kerb, 5.00 m from its start") {
		t.Errorf("%q", got)
	}
	if got := tiesOf([]trace.Feature{kerb}, geo.XY{X: -3, Y: 0}); got != nil {
		t.Errorf("beyond the end: %+v", got)
	}
}

func TestPointsHoldWhatMustBeStakedOut(t *testing.T) {
	s := sample.Sheet()
	var got []string
	for _, p := range Points(s, 0) {
		got = append(got, s.Lines[p.Line].Setup.Name+" "+geo.Metric.Long(p.Vertex.StationM)+" "+p.Title())
		if p.Told.Distrusted() && trace.Known(p.Told.Depth95M) && p.Told.Depth95M <= p.Vertex.Depth95M && p.Told.Doubt.Role() != "bleed_over" {
			t.Errorf("%s: a sure figure beside a doubt", got[len(got)-1])
		}
	}
	for _, want := range []string{
		"W-1 0.0 m start of the line as traced", "W-1 12.0 m bleed-over strongly suspected from here", "W-1 40.0 m traced to here",
		"W-1 21.0 m bleed-over strongly suspected to here; possible bleed-over from here",
		"W-1 52.0 m traced again from here", "W-1 60.0 m bend", `W-1 24.0 m crosses C <7> & "spare"`, "W-1 91.8 m end of the line as traced",
		`C <7> & "spare" 6.2 m crosses W-1`,
	} {
		if !slices.Contains(got, want) {
			t.Errorf("no %q among\n%s", want, strings.Join(got, "\n"))
		}
	}
	for _, l := range s.Lines {
		for _, p := range l.Centerline.Parts {
			marks := append(append([]float64{p.FromM()}, bendsOf(p)...), p.ToM())
			for i := 1; i < len(marks); i++ {
				if _, off := farthest(p, marks[i-1], marks[i]); off > 0.2 {
					t.Errorf("%s at %.1f: %.2f m off the straight", l.Setup.Name, marks[i], off)
				}
			}
		}
	}
}

// A bend is a point where the line would else lie more than 20 cm off the straight between
// two (judgement), and no tie is longer than a tape of 50 m (common practice, no source).
func TestLimitsOfPoints(t *testing.T) {
	for offM, want := range map[float64]int{0.19: 0, 0.21: 1} {
		p := trace.Part{Vertices: []trace.Vertex{{}, {Pos: geo.XY{X: 10, Y: offM}, StationM: 10}, {Pos: geo.XY{X: 20}, StationM: 20}}}
		if got := bendsOf(p); len(got) != want {
			t.Errorf("%.2f m off the straight: points at %v", offM, got)
		}
	}
	for m, want := range map[float64]int{49.9: 1, 50.1: 0} {
		if got := tiesOf([]trace.Feature{at1("hydrant", m, 0)}, geo.XY{}); len(got) != want {
			t.Errorf("%.1f m: %+v", m, got)
		}
	}
}

// A projected job tells north and east in its own system. How exact the figures
// are is the reference systems' own test.
func TestGridIsTheJobsOwn(t *testing.T) {
	s := sample.Sheet()
	if _, ok := GridOf(s); ok {
		t.Error("a job in degrees has a grid")
	}
	s.Job.CRS = "EPSG:26919"
	g, ok := GridOf(s)
	if !ok || g.ID() != "EPSG:26919" || g.Unit() != "m" {
		t.Fatalf("grid %v %v", g, ok)
	}
	north, east := g.NorthEast(s.Plane.Origin())
	if len(north) != 10 || len(east) != 9 { // seven and six digits before the point
		t.Errorf("north %q, east %q", north, east)
	}
	// What the files are asked for in goes before it, as on the sheets; degrees are no grid.
	for code, want := range map[string]string{"EPSG:2823": "EPSG:2823", "EPSG:6318": "EPSG:26919"} {
		out, err := geo.NewFrame(code, "NAD83(2011)", 2026.36)
		if err != nil {
			t.Fatal(err)
		}
		s.Output = out
		g, ok := GridOf(s)
		if !ok || g.ID() != want {
			t.Fatalf("output in %s: %v %v", code, g.ID(), ok)
		}
		x, y, err := g.frame.FromWGS84(s.Plane.Origin())
		if north, east := g.NorthEast(s.Plane.Origin()); err != nil || north != fmt.Sprintf("%.2f", y) || east != fmt.Sprintf("%.2f", x) {
			t.Errorf("output in %s: %q %q, %v", code, north, east, err)
		}
	}
}

// A point within a stretch where the trace may follow another line says so, and the
// start of a line that was not traced before it does.
func TestPointsTellTheDoubtThatTheyLieIn(t *testing.T) {
	var l trace.Line
	l.Setup.Name = "A"
	part := trace.Part{}
	for _, v := range [][2]float64{{0, 0}, {20, 0}, {20, 20}} {
		part.Vertices = append(part.Vertices, trace.Vertex{Pos: geo.XY{X: v[0], Y: v[1]}, StationM: v[0] + v[1], Corner: true})
	}
	l.Centerline = &trace.Centerline{Parts: []trace.Part{part}}
	l.Findings = []trace.Finding{
		finding.BleedOver{Line: "A", FromM: 10, ToM: 30, Grade: trace.GradeStrong, Jump: true},
		finding.Gap{Line: "A", FromM: trace.Unknown, ToM: trace.Unknown, Why: remark.AirBeyond{OverM: 4}},
	}
	var got []string
	for _, p := range LinePoints(&trace.Sheet{Lines: []trace.Line{l}}, 0, 0) {
		got = append(got, p.Title())
	}
	want := []string{"start of the line as traced, not traced before it", "trace may have jumped to another line from here",
		"bend; trace may have jumped to another line", "trace may have jumped to another line to here", "end of the line as traced"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
