package bleed_test

import (
	"math"
	"testing"

	"loamline.example/trace"
)

// A shallow line that shows two figures of a display of decimetres alone, 0.4 and 0.5 m,
// changes between them at once; its signal does not. That is no coupling either.
func TestTwoFiguresOfADisplayAreNoCoupling(t *testing.T) {
	for _, phase := range []float64{0, 0.7, 1.4, 2.1, 2.8, 3.5, 4.2, 4.9, 5.6} {
		line, ix := coupled(0, 30, 60)
		for i := range line.Readings {
			r := &line.Readings[i]
			d := 0.45 + 0.03*math.Sin(phase+r.StationM/9)
			r.SignalLow = 100 * math.Exp(-0.005*r.StationM) / d
			r.CurrentMA = d * (1 + 0.02*math.Sin(float64(7*i))) * r.SignalLow
			r.DepthM = math.Round(10*d) / 10
		}
		for _, s := range detect(t, line, ix).Stretches {
			if s.Grade != trace.GradeWatch {
				t.Errorf("phase %.1f: %s %.2f from %.0f to %.0f m: %v", phase, s.Grade, s.Score, s.FromM, s.ToM, s.Evidence)
			}
		}
	}
}

// A line that goes gently deeper and shallower beside a quiet neighbour shows its
// depth in steps where the display has only decimetres; the current, reckoned
// from the depth before it is rounded or from the field, does not step. None of
// that is coupling.
func TestDisplayStepsAreNoCoupling(t *testing.T) {
	for _, signalRead := range []bool{false, true} {
		for _, phase := range []float64{0, 0.7, 1.4, 2.1, 2.8, 3.5, 4.2, 4.9, 5.6} {
			line, ix := coupled(0, 30, 60)
			for i := range line.Readings {
				r := &line.Readings[i]
				d := r.DepthM * (1 + 0.13*math.Sin(phase+r.StationM/9))
				low := 100 * math.Exp(-0.002*r.StationM) / d
				d *= 1 + 0.005*math.Sin(float64(7*i))
				r.CurrentMA = d * low
				if signalRead {
					r.SignalLow = low
				}
				r.DepthM = math.Round(10*d) / 10
			}
			for _, s := range detect(t, line, ix).Stretches {
				if s.Grade != trace.GradeWatch {
					t.Errorf("signal read %t, phase %.1f: %s %.2f from %.0f to %.0f m: %v", signalRead, phase, s.Grade, s.Score, s.FromM, s.ToM, s.Evidence)
				}
			}
		}
	}
}

// Far from the transmitter little is left of a current or of a field, and a display of
// tenths of a milliampere, or of hundredths of a signal, shows one figure over many metres and
// then the next, and antennas that show 0.04 and 0.03 tell no depth. None of that is coupling,
// and no current that falls at once.
func TestFewStepsOfAWeakSignalAreNoCoupling(t *testing.T) {
	const gapM = 0.5
	onStep := func(v, step float64) float64 { return math.Round(v/step) * step }
	for _, antennas := range []bool{false, true} {
		for _, phase := range []float64{0, 0.7, 1.4, 2.1, 2.8, 3.5, 4.2, 4.9, 5.6} {
			line, ix := coupled(0, 30, 60)
			line.AntennaGapM = gapM
			for i := range line.Readings {
				r := &line.Readings[i]
				d := 1.5 + 0.3*math.Sin(phase+r.StationM/9)
				currentMA := 3 * math.Exp(-0.03*r.StationM) * (1 + 0.005*math.Sin(float64(7*i)))
				r.CurrentMA, r.DepthM = onStep(currentMA, 0.1), onStep(d*(1+0.005*math.Sin(float64(11*i))), 0.05)
				if antennas {
					r.SignalLow, r.SignalHigh = onStep(0.4*currentMA/d, 0.01), onStep(0.4*currentMA/(d+gapM), 0.01)
					if i%3 != 0 {
						r.DepthM = math.NaN()
					}
				}
			}
			for _, s := range detect(t, line, ix).Stretches {
				if s.Grade != trace.GradeWatch || s.Jump {
					t.Errorf("antennas %t, phase %.1f: %s %.2f from %.0f to %.0f m: %v", antennas, phase, s.Grade, s.Score, s.FromM, s.ToM, s.Evidence)
				}
			}
		}
	}
}

// Currents to whole or to five milliamperes, fields to whole figures or decibels and nulls to
// tenths of a metre stand and step as depths do, over a line that dives gently.
func TestStepsOfEveryColumnAreNoCoupling(t *testing.T) {
	onStep := func(v, step float64) float64 {
		if step == 0 {
			return v
		}
		return math.Round(v/step) * step
	}
	for name, c := range map[string]struct {
		currentMA, currentStep   float64
		field, fieldStep, stepDB float64
		nullStepM                float64
	}{
		"whole milliamperes":      {currentMA: 20, currentStep: 1},
		"last milliamperes":       {currentMA: 5, currentStep: 1},
		"tens of milliamperes":    {currentMA: 100, currentStep: 10},
		"fives of a field":        {field: 50, fieldStep: 5},
		"last figures of a field": {field: 5, fieldStep: 1},
		"decibels":                {field: 100, stepDB: 1},
		"tenths of a metre":       {currentMA: 100, nullStepM: 0.1},
	} {
		for _, phase := range []float64{0, 0.7, 1.4, 2.1, 2.8, 3.5, 4.2, 4.9, 5.6} {
			for _, fall := range []float64{0.002, 0.01} {
				line, ix := coupled(0, 30, 60)
				for i := range line.Readings {
					r := &line.Readings[i]
					noise := func(k int) float64 { return 1 + 0.005*math.Sin(float64(k*i)) }
					d := 1 + 0.1*math.Sin(phase+r.StationM/9) + 0.03*math.Sin(2*phase+r.StationM/4)
					left := math.Exp(-fall * r.StationM)
					r.DepthM, r.CurrentMA = d*noise(7), onStep(c.currentMA*left*noise(11), c.currentStep)
					if c.field > 0 {
						r.CurrentMA, r.SignalLow = trace.Unknown, onStep(c.field*left/d*noise(13), c.fieldStep)
					}
					if c.stepDB > 0 {
						r.SignalLow = math.Pow(10, onStep(20*math.Log10(r.SignalLow), c.stepDB)/20)
					}
					if c.nullStepM > 0 {
						r.NullOffsetM = onStep(0.04*math.Sin(phase+r.StationM/15)+0.01*math.Sin(float64(7*i)), c.nullStepM)
					}
				}
				for _, s := range detect(t, line, ix).Stretches {
					if s.Grade != trace.GradeWatch || s.Jump {
						t.Errorf("%s, phase %.1f: %s %.2f from %.0f to %.0f m: %v", name, phase, s.Grade, s.Score, s.FromM, s.ToM, s.Evidence)
					}
				}
			}
		}
	}
}
