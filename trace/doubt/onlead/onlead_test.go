package onlead

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// lineOf is a line of readings at places with depths.
func lineOf(at []geo.XY, depths []float64) *trace.Line {
	l := &trace.Line{Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
	pl := geo.NewPolyline(at)
	for i, d := range depths {
		r := trace.NewReading()
		r.Pos, r.StationM, r.DepthM, r.Status = at[i], pl.Station(i), d, trace.StatusUsed
		l.Readings = append(l.Readings, r)
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: at[i], StationM: r.StationM})
	}
	return l
}

func TestDoubts(t *testing.T) {
	straight := func(n int) (at []geo.XY) {
		for i := range n {
			at = append(at, geo.XY{X: 1.5 * float64(i)})
		}
		return at
	}
	turned := func(lead, n int) (at []geo.XY) {
		for i := range n {
			at = append(at, geo.XY{X: 1.5 * float64(max(i-lead, 0)), Y: 1.5 * float64(max(lead-i, 0))})
		}
		return at
	}
	reversed := func(v []float64) []float64 {
		out := make([]float64, len(v))
		for i := range v {
			out[len(v)-1-i] = v[i]
		}
		return out
	}
	deep := []float64{1.1, 1.15, 1.1, 1.12, 1.08, 1.1, 1.13, 1.1, 1.1, 1.1}
	for _, c := range []struct {
		what   string
		at     []geo.XY
		depths []float64
		n      int
		end    bool
	}{
		{"three readings", turned(3, 13), append([]float64{0.03, 0.1, 0.05}, deep...), 3, false},
		{"two readings and a turn", turned(2, 12), append([]float64{0.03, 0.1}, deep...), 2, false},
		{"at the end, straight on", straight(13), reversed(append([]float64{0.03, 0.1, 0.05}, deep...)), 3, true},
		{"two readings straight on", straight(12), append([]float64{0.03, 0.1}, deep...), 0, false},
		{"just as shallow", turned(3, 13), append([]float64{0.149, 0.149, 0.149}, deep...), 3, false},
		{"just too deep", turned(3, 13), append([]float64{0.151, 0.151, 0.151}, deep...), 0, false},
		{"a riser", turned(3, 13), append([]float64{0.03, 0.1, 0.14, 0.4, 0.7}, deep[:8]...), 0, false},
		{"one reading", turned(1, 11), append([]float64{0.03}, deep...), 0, false},
		{"a shallow line", straight(10), []float64{0.1, 0.12, 0.1, 0.13, 0.1, 0.12, 0.1, 0.1, 0.1, 0.1}, 0, false},
		{"half of the line", straight(16), append([]float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, deep[:8]...), 0, false},
		{"one deep reading", straight(12), []float64{0.1, 0.1, 0.1, 1, 0.12, 0.1, 0.12, 0.1, 0.12, 0.1, 0.12, 0.1}, 0, false},
	} {
		got := Doubts(lineOf(c.at, c.depths))
		if c.n == 0 {
			if len(got) > 0 {
				t.Errorf("%s: told %+v", c.what, got)
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("%s: told %d times", c.what, len(got))
			continue
		}
		d := got[0].(finding.Doubt)
		if why := d.Why.(remark.OnLead); why.N != c.n || why.AtEnd != c.end || !(d.ToM-d.FromM > 1.4*float64(c.n)) {
			t.Errorf("%s: %+v", c.what, d)
		}
	}
}
