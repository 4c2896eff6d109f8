package bleed

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Another frequency or hookup from some place on, or two frequencies at every place, put
// another current on the line: no sign of another one. The same change without either is.
func TestSetupsHaveLevelsOfTheirOwn(t *testing.T) {
	for _, c := range []struct {
		name    string
		of      func(i int) (times, freqHz float64, hookup trace.Hookup)
		suspect bool
	}{
		{"another frequency", func(i int) (float64, float64, trace.Hookup) {
			if i >= 20 {
				return 2.2, 32768, trace.HookupDirect
			}
			return 1, 8192, trace.HookupDirect
		}, false},
		{"another hookup", func(i int) (float64, float64, trace.Hookup) {
			if i >= 20 {
				return 2.2, 8192, trace.HookupClamp
			}
			return 1, 8192, trace.HookupDirect
		}, false},
		{"two frequencies at every other place", func(i int) (float64, float64, trace.Hookup) {
			if i%2 == 1 {
				return 0.5, 32768, trace.HookupDirect
			}
			return 1, 8192, trace.HookupDirect
		}, false},
		{"another figure for the same frequency", func(i int) (float64, float64, trace.Hookup) {
			if i >= 20 {
				return 2.2, 8000, trace.HookupDirect
			}
			return 1, 8192, trace.HookupDirect
		}, true},
		{"cells left blank behind the first", func(i int) (float64, float64, trace.Hookup) {
			if i == 0 {
				return 1, 8192, trace.HookupDirect
			}
			if i >= 20 {
				return 2.2, math.NaN(), ""
			}
			return 1, math.NaN(), ""
		}, true},
		{"neither", func(i int) (float64, float64, trace.Hookup) {
			if i >= 20 {
				return 2.2, 8192, trace.HookupDirect
			}
			return 1, 8192, trace.HookupDirect
		}, true},
	} {
		rnd := rand.New(rand.NewPCG(3, 4))
		line := Line{Path: Path{Name: "A"}, AntennaGapM: math.NaN()}
		for i := range 40 {
			x := 2 * float64(i)
			times, freqHz, hookup := c.of(i)
			r := trace.NewReading()
			r.Pos, r.StationM, r.OffsetM = geo.XY{X: x}, x, 0
			r.Time = time.Unix(8*int64(i)+1, 0)
			r.Fix, r.HAccM, r.Status = trace.FixRTK, 0.015, trace.StatusUsed
			r.DepthM = 1 + 0.02*rnd.NormFloat64()
			r.CurrentMA = times * 60 * math.Exp(-0.004*x) * (1 + 0.02*rnd.NormFloat64())
			r.NullOffsetM = 0.02 * rnd.NormFloat64()
			r.FreqHz, r.Hookup = freqHz, hookup
			line.Readings = append(line.Readings, r)
			line.Points, line.DepthM, line.SigmaM = append(line.Points, r.Pos), append(line.DepthM, 1), append(line.SigmaM, 0.02)
		}
		rep, err := Detect(context.Background(), line, NewIndex(nil))
		if err != nil {
			t.Fatal(err)
		}
		suspect := false
		for _, s := range rep.Stretches {
			suspect = suspect || s.Grade != trace.GradeWatch
		}
		if suspect != c.suspect {
			t.Errorf("%s: suspected %v: %+v", c.name, suspect, rep.Stretches)
		}
	}
}
