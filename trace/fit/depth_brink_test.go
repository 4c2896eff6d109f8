package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// The first depths of a walk down a slope: 3.5, 2.8 and 2.4 ft before 2.3 ft, with signals
// that rise as the line does. Where no signal tells, the band at the end holds them; where
// the signal stays, the figure is nonsense.
func TestSlopeAtTheEnd(t *testing.T) {
	for what, c := range map[string]struct {
		first         []float64
		followed      float64 // by the signal: its part of what Ampère's law makes of the depth
		used, holding bool
	}{
		"a slope":                        {[]float64{1.07, 0.85, 0.73}, 1, true, true},
		"a step at the first":            {[]float64{1.07}, 1, true, true},
		"a slope, no signal":             {[]float64{1.07, 0.85, 0.73}, math.NaN(), true, true},
		"a first depth, no signal":       {[]float64{1.07}, math.NaN(), true, true},
		"a shallow one, no signal, told": {[]float64{0.45}, math.NaN(), false, false},
		"a figure that no signal bears":  {[]float64{1.07}, 0, false, false},
	} {
		for _, last := range []bool{false, true} {
			depths, signals := make([]float64, 16), make([]float64, 16)
			at := func(i int) int {
				if last {
					return len(depths) - 1 - i
				}
				return i
			}
			for i := range depths {
				k := at(i)
				depths[k], signals[k] = 0.70+0.01*float64(i%3), 70*(1+0.01*float64(i%2))
				if i < len(c.first) {
					signals[k] *= math.Exp(-c.followed * math.Log(c.first[i]/depths[k]))
					depths[k] = c.first[i]
				}
			}
			res := readSignals(t, depths, signals)
			for i, d := range c.first {
				k := at(i)
				if used := res.Verdicts[k].Fate != DepthSpike; used != c.used {
					t.Errorf("%s, last %v: depth %d used %v", what, last, i, used)
				}
				if drawn, half := depthBand(*res, 6*float64(k)); c.holding && math.Abs(drawn-d) > half+0.03 {
					t.Errorf("%s, last %v: %.2f ± %.2f m where %.2f m was read", what, last, drawn, half, d)
				}
			}
		}
	}
}

// A line steps down 3 m behind the start of a walk, and goes on before it: signals say that
// its first depths are no end's. Where it ends there they say so too.
func TestStepBesideAnEnd(t *testing.T) {
	for what, c := range map[string]struct {
		from, drawn float64 // where the line begins, and how deep at the first reading
	}{
		"a step":             {-500, 1.72},
		"an end of the line": {-0.5, 2.1},
	} {
		var rs []trace.Reading
		deep := receiver.Wire{Points: []receiver.Point{{Y: c.from, Z: -2.1}, {Y: 500, Z: -2.1}}, CurrentA: 1}
		if what == "a step" {
			deep.Points = []receiver.Point{{Y: c.from, Z: -1.72}, {Y: 2.9, Z: -1.72}, {Y: 3.1, Z: -2.1}, {Y: 500, Z: -2.1}}
		}
		for i := range 60 {
			r := trace.NewReading()
			r.Row, r.Pos, r.HAccM, r.Fix = int32(i+2), geo.XY{X: 0.5 * float64(i)}, 0.015, trace.FixRTK
			over := receiver.Point{Y: r.Pos.X}
			_, r.DepthM = deep.Across(over, receiver.Point{X: 1}, receiver.UsualGapM, 1)
			r.SignalLow = 1e9 * math.Abs(deep.B(over).X)
			noise := 0.03 * math.Sin(float64(i*i))
			r.SignalLow, r.DepthM = r.SignalLow*(1+noise/2), r.DepthM*(1+noise)
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if d, half := depthBand(res, 0.2); math.Abs(d-c.drawn) > 0.2 || math.Abs(d-c.drawn) > half {
			t.Errorf("%s: %.2f ± %.2f m, where it is %.2f m, %.2f m read", what, d, half, c.drawn, rs[0].DepthM)
		}
	}
}

// A line rises to where its readings begin, and goes on. No signal tells that it does not end
// there, and the profile may lie deeper than what was read: the band holds what was.
func TestRiseToTheEnd(t *testing.T) {
	for _, c := range []struct{ first, level, over, step float64 }{{1.20, 1.51, 14, 3}, {1.02, 1.30, 10, 3}, {1.17, 1.56, 9, 2}, {1.15, 1.52, 9, 2}, {1.02, 1.40, 15, 2}} {
		var rs []trace.Reading
		for x, i := 0.0, 0; x < 70; x, i = x+c.step, i+1 {
			r := trace.NewReading()
			r.Row, r.Pos, r.HAccM, r.Fix = int32(i+2), geo.XY{X: x}, 0.015, trace.FixRTK
			r.DepthM = c.level - (c.level-c.first)*math.Max(0, 1-x/c.over)
			if i == 7 {
				r.Exposed = true
			} else {
				r.DepthM *= 1 + 0.02*math.Sin(float64(i*i))
			}
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range []int{0, 1} {
			if d, half := depthBand(res, rs[i].Pos.X+0.01); math.Abs(d-rs[i].DepthM) > half {
				t.Errorf("%+v: %.2f ± %.2f m where %.2f m was read %.0f m along", c, d, half, rs[i].DepthM, rs[i].Pos.X)
			}
		}
	}
}
