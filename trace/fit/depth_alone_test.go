package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// readSignals fits a straight line read every 6 m by RTK with depths and signals.
func readSignals(t *testing.T, depths, signals []float64) *Result {
	t.Helper()
	var rs []trace.Reading
	for i, d := range depths {
		r := trace.NewReading()
		r.Row, r.Pos, r.HAccM, r.Fix, r.DepthM = int32(i+2), geo.XY{X: 6 * float64(i)}, 0.015, trace.FixRTK, d
		r.SignalLow = signals[i]
		rs = append(rs, r)
	}
	res, err := Line(context.Background(), rs, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &res
}

// One reading over a short hump or dive is no spike where the signal rose or fell as it
// does over a line at that depth; with a signal as before, one that changed the other way,
// or none, the figure is left out.
func TestLoneDepthThatTheSignalTells(t *testing.T) {
	for what, c := range map[string]struct {
		depthM, signal float64
		used           bool
	}{
		"a hump":                         {0.5, 2, true},
		"a hump, its field less":         {0.5, 1.7, true},
		"a dive":                         {2.1, 0.5, true},
		"a figure alone":                 {0.5, 1, false},
		"a deep figure alone":            {2.1, 1.02, false},
		"deeper, and more signal":        {2.1, 1.9, false},
		"a hump, no signal in the table": {0.5, math.NaN(), false},
	} {
		depths, signals := make([]float64, 20), make([]float64, 20)
		for i := range depths {
			depths[i], signals[i] = 1+0.02*float64(i%3), 100*math.Exp(-0.01*float64(i))*(1+0.01*float64(i%2))
		}
		depths[9], signals[9] = c.depthM, signals[9]*c.signal
		if math.IsNaN(c.signal) {
			for i := range signals {
				signals[i] = c.signal
			}
		}
		res := readSignals(t, depths, signals)
		if used := res.Verdicts[9].Fate != DepthSpike; used != c.used {
			t.Errorf("%s: used %v", what, used)
		}
	}
}
