package transmitter

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// walk is a walk over depths, 2 m apart.
func walk(depths []float64, change func(i int, r *trace.Reading)) []trace.Reading {
	var out []trace.Reading
	for i, d := range depths {
		r := trace.NewReading()
		r.Pos, r.DepthM, r.Hookup, r.Status = geo.XY{X: 2 * float64(i)}, d, trace.HookupInduction, trace.StatusUsed
		if change != nil {
			change(i, &r)
		}
		out = append(out, r)
	}
	return out
}

// turned is a walk read the other way over the same ground.
func turned(rs []trace.Reading) []trace.Reading {
	slices.Reverse(rs)
	for i := range rs {
		rs[i].Pos.X = 2 * float64(i)
	}
	return rs
}

// beside are the depths of a line at 1.1 m that antennas 0.4 m apart show, the first reading
// 2 m from a transmitter whose own field is as strong as the line's 6 m from it.
func beside(n int) []float64 {
	const deepM, gapM = 1.1, 0.4
	var out []float64
	for i := range n {
		air := math.Pow(6/(2+2*float64(i)), 3) / deepM
		low, high := 1/deepM+air, 1/(deepM+gapM)+air
		out = append(out, gapM*high/(low-high)*(1+0.01*math.Sin(float64(i*i))))
	}
	return out
}

func TestAtWhereDepthsFallAsBesideATransmitter(t *testing.T) {
	near := beside(30)
	far := slices.Clone(near)
	slices.Reverse(far)
	level := slices.Repeat([]float64{1.1, 1.12, 1.09}, 10)
	oneDeep := slices.Concat([]float64{4}, level)
	ramp := slices.Concat([]float64{1.9, 1.8, 1.7, 1.5, 1.3}, level)
	late := slices.Concat([]float64{2.1, 2.0, 2.2, 1.9, 1.5}, level)
	less := slices.Concat([]float64{1.9, 1.4, 1.2}, level)
	falling := func(ma ...float64) func(i int, r *trace.Reading) {
		return func(i int, r *trace.Reading) {
			if r.CurrentMA = 40; i < len(ma) {
				r.CurrentMA = ma[i]
			}
		}
	}
	for _, c := range []struct {
		what   string
		rs     []trace.Reading
		at     float64
		nobody bool
	}{
		{"from the first reading", walk(near, nil), 0, false},
		{"to the last", walk(far, nil), 58, false},
		{"with a depth left out", walk(near, func(i int, r *trace.Reading) {
			if i == 0 {
				r.DepthM = trace.Unknown
			}
		}), 0, false},
		{"a level line", walk(level, nil), 0, true},
		{"one deep reading", walk(oneDeep, nil), 0, true},
		{"a line that comes up, not so deep", walk(ramp, nil), 0, true},
		{"depths that do not fall", walk(late, nil), 0, true},
		{"less deep, and the current falls with it", walk(less, falling(150, 70, 50)), 0, false},
		{"a line that comes up keeps its current", walk(less, falling(42, 41, 40)), 0, true},
		{"the same from the far end", turned(walk(less, falling(150, 70, 50))), 2 * float64(len(less)-1), false},
		{"hardly deeper, though the current falls", walk(slices.Concat([]float64{1.35, 1.25, 1.15}, level), falling(150, 70, 50)), 0, true},
		{"less deep, and the current falls by little", walk(less, falling(60, 55, 50)), 0, true},
		{"less deep, and the next current is the line's own", walk(less, falling(150, 45, 42)), 0, true},
		{"one reading alone", walk(slices.Concat([]float64{1.9}, level), falling(150)), 0, true},
		{"connected", walk(near, func(_ int, r *trace.Reading) { r.Hookup = trace.HookupDirect }), 0, true},
		{"few depths", walk(near[:9], nil), 0, true},
		{"antennas tell", walk(near, func(_ int, r *trace.Reading) { r.SignalLow, r.SignalHigh = 2, 1 }), 0, true},
		{"lifted", walk(near, func(i int, r *trace.Reading) {
			if i < 8 {
				r.Status = trace.StatusCheck
			}
		}), 0, true},
	} {
		at, inferred := At(c.rs, trace.LineSetup{}, geo.Plane{})
		if (at == nil) != c.nobody || inferred == c.nobody || at != nil && at.X != c.at {
			t.Errorf("%s: %v, inferred %v", c.what, at, inferred)
		}
	}
}
