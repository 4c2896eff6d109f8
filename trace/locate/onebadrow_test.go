package locate

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/intake"
	"loamline.example/trace/setting"
	"loamline.example/trace/walkorder"
)

// A number that no instrument has is left out, whatever its row is for.
func TestNumbersBeyondAnyInstrument(t *testing.T) {
	table := readText(t, "lat,lon,fix,depth_m,current_ma\n44.1,-71.5,0,1e308,5\n44.1,-71.5,4,1.0,-1e300\n44.1,-71.5,4,1.0,9e8\n", intake.TableOptions{})
	if r := table.Readings; trace.Known(r[0].DepthM) || trace.Known(r[1].CurrentMA) || r[2].CurrentMA != 9e8 || len(table.Problems) != 2 {
		t.Errorf("%+v %v", r, table.Problems)
	}
	if p := table.Problems[0]; p.Row != 2 || p.Column != 14 || !strings.Contains(p.Cause, "no instrument") {
		t.Errorf("%v", p)
	}
}

// A name of any length is cut to one that a sheet can carry; names that differ
// stay apart.
func TestLongTextsAreCut(t *testing.T) {
	long := strings.Repeat("N", 60000)
	table := readText(t, "line,point,note,lat,lon\n"+long+"a,"+long+","+long+",44.1,-71.5\n"+long+"b,2,x,44.1,-71.5\n"+long+"a,3,x,44.1,-71.5\n", intake.TableOptions{})
	a, b, again := table.Readings[0], table.Readings[1], table.Readings[2]
	if len(a.Line) > setting.MaxNameBytes || len(a.Point) > setting.MaxNameBytes || len(a.Note) > setting.MaxNoteBytes {
		t.Errorf("%d, %d, %d bytes", len(a.Line), len(a.Point), len(a.Note))
	}
	if a.Line == b.Line || a.Line != again.Line {
		t.Errorf("%q, %q, %q", a.Line, b.Line, again.Line)
	}
	if len(table.Problems) != 5 || !table.Problems[0].Warn || table.Problems[0].Row != 2 {
		t.Errorf("%d problems, %v", len(table.Problems), table.Problems[:1])
	}
}

// A suspected stretch lies on its line and has a length.
func TestStretchesLieOnTheLine(t *testing.T) {
	for _, tt := range []struct{ from, to, wantFrom, wantTo float64 }{
		{141.6, 4568.2, 134, 135}, {40, 40, 39.5, 40.5}, {-3, 12, 0, 12}, {135, 135, 134, 135}, {20, 30, 20, 30}, {0, 0, 0, 1},
		{math.NaN(), 12, 0, 12}, {math.Inf(-1), math.Inf(1), 0, 135},
	} {
		st := onTheLine(bleed.Stretch{FromM: tt.from, ToM: tt.to}, 135)
		if math.Abs(st.FromM-tt.wantFrom) > 1e-9 || math.Abs(st.ToM-tt.wantTo) > 1e-9 {
			t.Errorf("%v to %v: %v to %v", tt.from, tt.to, st.FromM, st.ToM)
		}
	}
}

// Readings without any course are refused in words, at once, and the rest of the
// job is drawn.
func TestReadingsWithoutACourse(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	for name, next := range map[string]func(x, y float64) (float64, float64){
		"cloud": func(_, _ float64) (float64, float64) { return 10 * rnd.NormFloat64(), 10 * rnd.NormFloat64() },
		"tangle": func(x, y float64) (float64, float64) {
			a := 2 * math.Pi * rnd.Float64()
			return x + 1.5*math.Cos(a), y + 1.5*math.Sin(a)
		},
	} {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			b.WriteString("line,lat,lon,h_acc_m,depth_m\n")
			x, y := 0.0, 0.0
			for range 3000 {
				x, y = next(x, y)
				fmt.Fprintf(&b, "C,%.8f,%.8f,0.02,1.00\n", 44.1+y/111132, -71.5+x/80000)
			}
			for i := range 12 {
				fmt.Fprintf(&b, "W-1,%.8f,-71.501,0.02,1.00\n", 44.1+float64(i)*2e-5)
			}
			s, err := built(t, gridJob("EPSG:4326"), b.String())
			warned(t, s, err, "line", "no course")
			if s.Lines[0].Centerline != nil || s.Lines[1].Centerline == nil || !s.Counts.Balanced() || s.Counts.SetAside != 3000 {
				t.Errorf("drawn %v, %v; %+v", s.Lines[0].Centerline != nil, s.Lines[1].Centerline != nil, s.Counts)
			}
		})
	}
}

// What only looks wild has a course: a sweep, a ring, a serpentine, a walk whose
// fixes scatter by more than its strides.
func TestCoursesThatLookWild(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for name, at := range map[string]func(i int) (x, y float64){
		"ring": func(i int) (float64, float64) {
			a := float64(i) / 1200 * 2 * math.Pi
			return 20 * math.Cos(a), 20 * math.Sin(a)
		},
		"serpentine": func(i int) (float64, float64) {
			leg, on := i/60, float64(i%60)
			if leg%2 == 1 {
				on = 60 - on
			}
			return on, 3 * float64(leg)
		},
		"noisy":  func(i int) (float64, float64) { return float64(i)*0.1 + 1.5*rnd.NormFloat64(), 1.5 * rnd.NormFloat64() },
		"parked": func(i int) (float64, float64) { return math.Max(0, float64(i-600)), 0.5 * rnd.NormFloat64() },
		"elbow": func(i int) (float64, float64) {
			return math.Min(60, float64(i)*0.1) + rnd.NormFloat64(), math.Max(0, float64(i)*0.1-60) + rnd.NormFloat64()
		},
	} {
		tr := trace.Trace{Name: name}
		for i := range 1200 {
			r := trace.NewReading()
			r.Pos.X, r.Pos.Y = at(i)
			tr.Readings = append(tr.Readings, r)
		}
		if withoutCourse(walkorder.Taken(tr.Readings, func(*trace.Reading) bool { return true })) {
			t.Errorf("%s is refused", name)
		}
	}
}

// A line about which no zone can be drawn is told, and costs no other.
func TestLineWithoutAZone(t *testing.T) {
	s, err := built(t, gridJob("EPSG:4326"), depthWalk(1, 1.02, 1.01, 1, 1.03, 1))
	if err != nil {
		t.Fatal(err)
	}
	l := &s.Lines[0]
	withdraw(l, errors.New("the zone has no valid outline"))
	if l.Centerline != nil || len(l.Findings) > 0 || l.Readings[2].Status != trace.StatusSetAside || !strings.Contains(said(l.Checked[len(l.Checked)-1]), "no valid outline") {
		t.Errorf("%+v", l)
	}
	if a := advise(s, make([]lineErrors, len(s.Lines))); len(a) == 0 || !strings.Contains(said(a[0].Remark), "no line could be drawn") {
		t.Errorf("advice %v", a)
	}
}

// Texts of the job file and names of a layer are bounded too.
func TestLongTextsOfJobAndLayer(t *testing.T) {
	long := strings.Repeat("x", 5000)
	for _, text := range []string{"area = \"" + long + "\"", "[tolerance]\nrule = \"" + long + "\"", "[[line]]\nname = \"" + long + "\""} {
		if _, err := intake.ReadJobFile(strings.NewReader(text), "job.toml"); err == nil || !strings.Contains(err.Error(), "5000 bytes") || !strings.HasPrefix(err.Error(), "job.toml:") {
			t.Errorf("%.40s…: %v", text, err)
		}
	}
	layer := `{"type":"Feature","properties":{"name":"` + long + `"},"geometry":{"type":"LineString","coordinates":[[-71.5,44.1],[-71.501,44.1]]}}`
	if r, _, err := intake.ReadRecords(strings.NewReader(layer), "gas.geojson", trace.Gas); err != nil || len(r) != 1 || len(r[0].Name) > setting.MaxNameBytes {
		t.Errorf("%v, %v", len(r), err)
	}
}
