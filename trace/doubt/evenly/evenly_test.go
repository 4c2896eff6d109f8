package evenly

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Positions that were computed from others are told with their stretch; neither a walk
// that scatters, nor one that stands still, nor figures too coarse to tell, nor a walk
// without any scatter is.
func TestEvenlyPlaced(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -71.5, LatDeg: 44.1})
	walk := func(sigmaM float64, change func(at []geo.XY)) *trace.Line {
		rng := rand.New(rand.NewPCG(7, 11))
		at := make([]geo.XY, 30)
		for i := range at {
			at[i] = geo.XY{X: 2*float64(i) + sigmaM*rng.NormFloat64(), Y: sigmaM * rng.NormFloat64()}
		}
		change(at)
		l := &trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{Parts: []trace.Part{{}}}}
		for i, p := range at {
			r := trace.NewReading()
			r.Row, r.Pos, r.StationM, r.Status = int32(i+2), p, 2*float64(i), trace.StatusUsed
			r.Geographic = plane.LonLat(p)
			l.Readings = append(l.Readings, r)
			l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: p, StationM: r.StationM})
		}
		return l
	}
	between := func(from, to int) func(at []geo.XY) {
		return func(at []geo.XY) {
			for i := from + 1; i < to; i++ {
				at[i] = at[from].Add(at[to].Sub(at[from]).Scale(float64(i-from) / float64(to-from)))
			}
		}
	}
	onward := func(from, n int) func(at []geo.XY) {
		return func(at []geo.XY) {
			stride := at[from].Sub(at[from-1])
			for i := range n {
				at[from+i+1] = at[from+i].Add(stride)
			}
		}
	}
	for name, c := range map[string]struct {
		sigmaM         float64
		change         func(at []geo.XY)
		fromRow, toRow int32 // 0 for nothing told
	}{
		"measured":                     {0.015, func([]geo.XY) {}, 0, 0},
		"between two fixes":            {0.015, between(10, 16), 13, 17},
		"carried on past a fix":        {0.015, onward(12, 5), 14, 18},
		"two in the middle, by chance": {0.015, between(10, 13), 0, 0},
		"stood still": {0.015, func(at []geo.XY) {
			for i := 11; i < 16; i++ {
				at[i] = at[10]
			}
		}, 0, 0},
		"a grid of 5 cm": {0.015, func(at []geo.XY) {
			for i, p := range at {
				at[i] = plane.XY(geo.LonLat{LonDeg: rounded(plane.LonLat(p).LonDeg, 1e-6), LatDeg: rounded(plane.LonLat(p).LatDeg, 1e-6)})
			}
		}, 0, 0},
		"five decimals, with corners": {0.015, func(at []geo.XY) {
			for i, p := range at {
				if i >= 15 {
					p = geo.XY{X: 30 + p.Y, Y: 2*float64(i-15) + p.Y}
				}
				if i%8 == 0 {
					p.Y += 4
				}
				at[i] = plane.XY(geo.LonLat{LonDeg: rounded(plane.LonLat(p).LonDeg, 1e-5), LatDeg: rounded(plane.LonLat(p).LatDeg, 1e-5)})
			}
		}, 0, 0},
		"no scatter at all": {0, func(at []geo.XY) {
			for i := 15; i < 30; i++ {
				at[i] = geo.XY{X: 30, Y: 2 * float64(i-15)}
			}
		}, 0, 0},
	} {
		found := Doubts(walk(c.sigmaM, c.change))
		if c.fromRow == 0 {
			if len(found) > 0 {
				t.Errorf("%s: told %+v", name, found)
			}
			continue
		}
		if len(found) != 1 {
			t.Errorf("%s: told %d times", name, len(found))
			continue
		}
		if why, ok := found[0].(finding.Doubt).Why.(remark.PositionsComputed); !ok || why.FromRow != c.fromRow || why.ToRow != c.toRow {
			t.Errorf("%s: %+v, want rows %d to %d", name, why, c.fromRow, c.toRow)
		}
	}
}

func rounded(v, step float64) float64 { return math.Round(v/step) / math.Round(1/step) }
