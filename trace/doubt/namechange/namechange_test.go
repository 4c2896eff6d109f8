package namechange

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// walkOf are readings at some places, one a row of a table from a row on.
func walkOf(row int32, at ...geo.XY) []trace.Reading {
	var out []trace.Reading
	for i, p := range at {
		r := trace.NewReading()
		r.Pos, r.Row, r.Status = p, row+int32(i), trace.StatusUsed
		out = append(out, r)
	}
	return out
}

// straight are n places from one on, so far from each other.
func straight(n int, from, step geo.XY) []geo.XY {
	var out []geo.XY
	for i := range n {
		wobble := 0.02 * math.Sin(float64(7*i))
		out = append(out, from.Add(step.Scale(float64(i))).Add(geo.XY{X: -step.Y, Y: step.X}.Scale(wobble)))
	}
	return out
}

// lines are two lines of which the first has so many of the places walked.
func lines(first int, walked []geo.XY) []trace.Line {
	var out []trace.Line
	for k, at := range [][]geo.XY{walked[:first], walked[first:]} {
		l := trace.Line{Readings: walkOf(int32(2+k*first), at...), Centerline: &trace.Centerline{}}
		l.Setup.Name = []string{"A", "B"}[k]
		c := trace.Part{}
		for i := range l.Readings {
			station := 0.0
			if i > 0 {
				station = l.Readings[i-1].StationM + at[i].Dist(at[i-1])
			}
			l.Readings[i].StationM = station
			c.Vertices = append(c.Vertices, trace.Vertex{Pos: at[i], StationM: station})
		}
		l.Centerline.Parts = append(l.Centerline.Parts, c)
		out = append(out, l)
	}
	return out
}

// A square corner after 12 readings of a first line, and 15 of a second: with the name
// changed at the corner nothing is to be told, nor anywhere on a course that does not turn.
func TestDoubts(t *testing.T) {
	corner := append(straight(12, geo.XY{}, geo.XY{X: 1.6}), straight(15, geo.XY{X: 18.8, Y: 0.6}, geo.XY{Y: 1.5})...)
	leap := append(straight(12, geo.XY{}, geo.XY{X: 1.6}), straight(15, geo.XY{X: 17.6, Y: 7}, geo.XY{Y: 1.5})...)
	var bend []geo.XY // 12 m of radius
	for i := range 27 {
		a := 1.6 * float64(i) / 12
		bend = append(bend, geo.XY{X: 12 * math.Sin(a), Y: 12 - 12*math.Cos(a)})
	}
	apart := append(straight(16, geo.XY{}, geo.XY{X: 1.6}), straight(11, geo.XY{X: 24, Y: 6}, geo.XY{X: 1.6})...)
	for _, c := range []struct {
		what   string
		walked []geo.XY
		first  int // readings under the first name
		on     string
		n      int // readings that are told
	}{
		{"at the corner", corner, 12, "", 0},
		{"four readings late", corner, 16, "A", 4},
		{"five readings early", corner, 7, "B", 5},
		{"four readings late over a leap", leap, 16, "A", 4},
		{"half of the other line late", corner, 25, "", 0},
		{"on a straight course", straight(27, geo.XY{}, geo.XY{X: 1.6}), 16, "", 0},
		{"in a bend", bend, 16, "", 0},
		{"beside the other line", apart, 16, "", 0},
	} {
		ls := lines(c.first, c.walked)
		got := Doubts(ls)
		for k, l := range ls {
			if len(got[k]) == 0 {
				if c.on != "" {
					t.Errorf("%s: nothing is told of %s", c.what, l.Setup.Name)
				}
				continue
			}
			d := got[k][0].(finding.Doubt)
			why := d.Why.(remark.NameChanged)
			if l.Setup.Name != c.on {
				if c.on == "" || !why.Beyond || why.Other != c.on || len(d.Path) != c.n {
					t.Errorf("%s: %s is told %+v at %d places", c.what, l.Setup.Name, why, len(d.Path))
				}
				continue
			}
			if why.Beyond || why.N != c.n || why.Late != (c.on == "A") || why.Other == c.on {
				t.Errorf("%s: %s is told %+v, want %d readings of %q", c.what, l.Setup.Name, why, c.n, c.on)
			}
			if !(d.ToM-d.FromM > 1.4*float64(c.n-1)) {
				t.Errorf("%s: told from %.1f to %.1f m", c.what, d.FromM, d.ToM)
			}
		}
	}
}
