package bleed_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/remark"
)

// A current that falls at one place by more than a fifth and stays lower is to be watched
// from there on; what takes it back, a branch that was traced, or less is not.
func TestFallsOfTheCurrent(t *testing.T) {
	step := func(stationM, before, after float64) float64 {
		if stationM < 40 {
			return before
		}
		return after
	}
	for _, tt := range []struct {
		name     string
		left     func(stationM float64) float64 // of the current
		tees     []float64
		from, to float64 // both 0 where nothing is told
	}{
		{"half of it", func(s float64) float64 { return step(s, 1, 0.5) }, nil, 34, 98},
		{"three quarters are left", func(s float64) float64 { return step(s, 1, 0.74) }, nil, 34, 98},
		{"the walk comes to the transmitter", func(s float64) float64 { return math.Exp(0.004*s) * step(s, 0.5, 1) }, nil, 0, 44},
		{"a tenth", func(s float64) float64 { return step(s, 1, 0.9) }, nil, 0, 0},
		{"a branch that was traced", func(s float64) float64 { return step(s, 1, 0.5) }, []float64{39}, 0, 0},
		{"slowly", func(s float64) float64 { return 1 - s/200 }, nil, 0, 0},
		{"slowly, to the last tenths of a display", func(s float64) float64 { return 0.004 * math.Exp(-0.015*s) }, nil, 0, 0},
		{"half of it, on tenths of a display", func(s float64) float64 { return step(s, 0.03, 0.015) }, nil, 34, 98},
	} {
		line, _ := coupled(0, 0, 0)
		line.TeesM = tt.tees
		for i := range line.Readings {
			r := &line.Readings[i]
			if r.CurrentMA *= tt.left(r.StationM); strings.Contains(tt.name, "of a display") {
				r.CurrentMA = math.Round(10*r.CurrentMA) / 10
			}
		}
		var told []bleed.Stretch
		for _, s := range detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches {
			if slices.ContainsFunc(s.Evidence, func(e trace.Remark) bool { _, is := e.(remark.CurrentFalls); return is }) {
				told = append(told, s)
			}
		}
		switch {
		case tt.to == 0 && len(told) > 0:
			t.Errorf("%s: told from %.0f to %.0f m", tt.name, told[0].FromM, told[0].ToM)
		case tt.to > 0 && (len(told) != 1 || told[0].Grade != trace.GradeWatch || !told[0].Jump || told[0].FromM != tt.from || told[0].ToM != tt.to):
			t.Errorf("%s: %+v, not to be watched from %.0f to %.0f m", tt.name, told, tt.from, tt.to)
		}
	}
}

// Where the marks step aside as the current falls, one side is over another line, and nothing
// tells which: both are told, but for one that is far the longer.
func TestFallAsTheMarksStepAside(t *testing.T) {
	for _, tt := range []struct {
		name        string
		atM, asideM float64
		scatterM    float64
		fromM, toM  float64
	}{
		{"in the middle", 40, 1.5, 0, 0, 98},
		{"on one course", 40, 0, 0, 34, 98},
		{"by no more than marks that scatter may", 40, 0.6, 0.2, 34, 98},
		{"near the far end", 80, 1.5, 0, 74, 98},
	} {
		line, _ := coupled(0, 0, 0)
		for i := range line.Readings {
			line.Readings[i].Pos.Y += tt.scatterM * math.Sin(float64(i*i))
			line.Points[i] = line.Readings[i].Pos
			if r := &line.Readings[i]; r.StationM >= tt.atM {
				r.CurrentMA *= 0.6
				r.Pos.Y += tt.asideM
				line.Points[i] = r.Pos
			}
		}
		var told []bleed.Stretch
		for _, s := range detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches {
			if slices.ContainsFunc(s.Evidence, func(e trace.Remark) bool { _, is := e.(remark.CurrentFalls); return is }) {
				told = append(told, s)
			}
		}
		if len(told) != 1 || told[0].FromM != tt.fromM || told[0].ToM != tt.toM {
			t.Errorf("%s: %+v, not told from %.0f to %.0f m", tt.name, told, tt.fromM, tt.toM)
		}
	}
}

// A current that comes without any depth or signal is looked at for falls all the same.
func TestFallOfACurrentAlone(t *testing.T) {
	line, _ := coupled(0, 0, 0)
	for i := range line.Readings {
		r := &line.Readings[i]
		r.DepthM, r.Signal, r.SignalLow, r.SignalHigh = trace.Unknown, trace.Unknown, trace.Unknown, trace.Unknown
		if r.CurrentMA = 60 + math.Sin(float64(i*i)); r.StationM >= 40 {
			r.CurrentMA *= 0.6
		}
	}
	rep := detect(t, line, bleed.NewIndex([]bleed.Path{line.Path}))
	if !slices.ContainsFunc(rep.Stretches, func(s bleed.Stretch) bool {
		return slices.ContainsFunc(s.Evidence, func(e trace.Remark) bool { _, is := e.(remark.CurrentFalls); return is })
	}) {
		t.Errorf("a fall by 40 %% is not told: %+v", rep.Stretches)
	}
	if !slices.Contains(rep.Notes, trace.Remark(remark.Checked{Check: remark.CheckCurrentAlone})) {
		t.Errorf("the notes do not say what was checked: %v", rep.Notes)
	}
}

// Of seven readings four on either side are not there: a fall that is three times what the
// current changes elsewhere is told all the same.
func TestFallAmongFewReadings(t *testing.T) {
	for _, tt := range []struct {
		currents []float64
		told     bool
	}{
		{[]float64{55.6, 52.7, 44.5, 20.3, 20, 18.8, 18.2}, true},
		{[]float64{55, 47, 41, 30, 26, 22, 19}, false},
		{[]float64{55, 54, 53, 54, 53, 52, 20}, false},
	} {
		all, _ := coupled(0, 0, 0)
		line := all
		line.Readings = nil
		for i, mA := range tt.currents {
			r := all.Readings[5*i]
			r.DepthM, r.CurrentMA, r.Signal, r.SignalLow, r.SignalHigh = 1.4, mA, trace.Unknown, trace.Unknown, trace.Unknown
			line.Readings = append(line.Readings, r)
		}
		told := slices.ContainsFunc(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches, func(s bleed.Stretch) bool {
			return slices.ContainsFunc(s.Evidence, func(e trace.Remark) bool { _, is := e.(remark.CurrentFalls); return is })
		})
		if told != tt.told {
			t.Errorf("%v: told %v", tt.currents, told)
		}
	}
}
