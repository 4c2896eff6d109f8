package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// TestCellsCoarserThanStrides: a straight walk whose positions were written to 10 m is
// drawn straight, and far closer than the 5 m that its digits hide, at any heading. The
// readings' offsets are those of their figures.
func TestCellsCoarserThanStrides(t *testing.T) {
	const cell = 10.0
	cells := Options{Cell: func(*trace.Reading) geo.XY { return geo.XY{X: cell, Y: cell} }}
	for deg := 10; deg < 90; deg += 10 {
		r := rand.New(rand.NewPCG(5, uint64(deg)))
		ahead := geo.XY{X: math.Cos(float64(deg) * math.Pi / 180), Y: math.Sin(float64(deg) * math.Pi / 180)}
		start := geo.XY{X: cell * r.Float64(), Y: cell * r.Float64()}
		var in []reading
		for at := 0.0; at < 120; at += 2 + 0.6*r.NormFloat64() {
			p := start.Add(ahead.Scale(at))
			in = append(in, reading{Pos: geo.XY{X: cell * math.Round(p.X/cell), Y: cell * math.Round(p.Y/cell)},
				TimeS: 12 * float64(len(in)), SigmaM: 0.02, Fix: 4, HDOP: math.NaN(), DepthM: 1})
		}
		res, err := Line(context.Background(), asRead(in), cells)
		if err != nil || len(res.Parts) != 1 {
			t.Fatalf("%d°: %v, %d parts", deg, err, len(res.Parts))
		}
		most := 0.0
		for _, v := range res.Parts[0].Vertices {
			most = math.Max(most, math.Abs(v.Pos.Sub(start).Cross(ahead)))
		}
		if most > cell/5 {
			t.Errorf("%d°: the line is drawn %.2f m off", deg, most)
		}
		for i, v := range res.Verdicts {
			if off := in[i].Pos.Sub(start).Cross(ahead); math.Abs(v.OffsetM-off) > cell/5 {
				t.Errorf("%d°, reading %d: %.2f m from the line, where its figures are %.2f m off", deg, i, v.OffsetM, off)
			}
		}
	}
}

func TestWithinCells(t *testing.T) {
	walk := func(n int, stepM float64) []reading {
		in := make([]reading, n)
		for i := range in {
			in[i] = reading{Pos: geo.XY{X: math.Round(stepM * float64(i)), Y: 3}, TimeS: 10 * float64(i), Cell: geo.XY{X: 1, Y: 1},
				SigmaM: 0.02, Fix: 4, HDOP: math.NaN(), DepthM: 1}
		}
		return in
	}
	exact := walk(40, 0.3)
	for i := range exact {
		exact[i].Cell = geo.XY{}
	}
	holed := walk(40, 0.3)
	holed[20].Exposed = true
	tests := []struct {
		name  string
		in    []reading
		moved bool
	}{
		{"three readings a cell", walk(40, 0.3), true},
		{"an exposed place stays where it is", holed, true},
		{"figures that hide nothing", exact, false},
		{"too few to get on evenly", walk(5, 0.3), false},
		{"strides longer than cells", walk(40, 2.1), false},
	}
	for _, tt := range tests {
		before := append([]reading(nil), tt.in...)
		moved := withinCells(tt.in)
		if (moved != nil) != tt.moved {
			t.Errorf("%s: moved by %v", tt.name, moved)
			continue
		}
		for i, by := range moved {
			if r, was := tt.in[i], before[i]; r.Pos != was.Pos.Add(by) || math.Abs(by.X) > was.Cell.X/2+1e-12 || math.Abs(by.Y) > was.Cell.Y/2+1e-12 {
				t.Errorf("%s: reading %d went from %v to %v, by %v", tt.name, i, was.Pos, r.Pos, by)
			} else if r.Exposed && by != (geo.XY{}) {
				t.Errorf("%s: moved by %v", tt.name, by)
			}
		}
	}
}
