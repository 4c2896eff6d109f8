package clean

import (
	"cmp"
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// walked makes a trace of depths, two metres apart, with 3 % of noise.
func walked(n int, depth func(i int) float64) trace.Trace {
	t := trace.Trace{Name: "A"}
	for i := range n {
		r := trace.NewReading()
		r.Row, r.Line, r.Pos = int32(i+2), "A", geo.XY{X: 2 * float64(i)}
		r.DepthM = math.Round(depth(i)*(1+0.03*math.Sin(2.5*float64(i*i)))*100) / 100
		t.Readings = append(t.Readings, r)
	}
	return t
}

func causes(t trace.Trace, gapM float64) string {
	var out []string
	for _, c := range Contradictions(t, gapM, []trace.Input{{Name: "walk.csv"}}) {
		if len(c.Advice) == 0 {
			out = append(out, "NOT TOLD")
		}
		out = append(out, cmp.Or(c.Problem.Cause, said(c.Problem.Remark)))
	}
	return strings.Join(out, "; ")
}

func TestDepthsThatChangeTheirUnit(t *testing.T) {
	for name, c := range map[string]struct {
		depth func(i int) float64
		want  string
	}{
		"feet, then metres":        {func(i int) float64 { return []float64{3.28, 1}[min(i/10, 1)] }, "metres to feet"},
		"inches, then feet":        {func(i int) float64 { return []float64{12, 1}[min(i/12, 1)] }, "feet to inches"},
		"inches, then centimetres": {func(i int) float64 { return []float64{0.4, 1.016}[min(i/8, 1)] }, "inches to centimetres"},
		"even":                     {func(i int) float64 { return 1 }, ""},
		"twice as deep":            {func(i int) float64 { return []float64{0.8, 1.6}[min(i/10, 1)] }, ""},
		"down a slope":             {func(i int) float64 { return 0.6 + 0.12*float64(i) }, ""},
		"feet, then metres, falling": {func(i int) float64 {
			return []float64{3.28, 1}[min(i/10, 1)] * (1 + 0.05*float64(i))
		}, "metres to feet"},
		"four rows in feet": {func(i int) float64 { return 0.8 * (1 + 2.28*b2f(i >= 9 && i < 13)) }, "metres to feet"},
		"one spike":         {func(i int) float64 { return 1 + 2.28*b2f(i == 9) }, ""},
	} {
		got := causes(walked(20, c.depth), trace.Unknown)
		if c.want == "" && strings.Contains(got, "ratio") || !strings.Contains(got, c.want) || strings.Contains(got, "NOT TOLD") {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A display's unit changes neither current nor signal: where one of them changes as much
// as the depths do, and the way that physics has it, the line or the field changed.
func TestDepthsThatChangeWithTheField(t *testing.T) {
	const none = 0
	for name, c := range map[string]struct {
		depthM, currentMA, signal [2]float64 // before and after
		want                      string
	}{
		"the display alone":                  {[2]float64{0.4, 1.016}, [2]float64{60, 58}, [2]float64{300, 310}, "inches to centimetres"},
		"the display, nothing else read":     {[2]float64{0.4, 1.016}, [2]float64{none, none}, [2]float64{none, none}, "inches to centimetres"},
		"the display, current on one side":   {[2]float64{0.4, 1.016}, [2]float64{60, none}, [2]float64{none, none}, "inches to centimetres"},
		"the display, gain turned up":        {[2]float64{0.4, 1.016}, [2]float64{60, 60}, [2]float64{300, 700}, "inches to centimetres"},
		"onto a nearer line":                 {[2]float64{0.82, 0.32}, [2]float64{54, 23}, [2]float64{256, 302}, ""},
		"and back":                           {[2]float64{0.32, 0.82}, [2]float64{23, 54}, [2]float64{302, 256}, ""},
		"down a step":                        {[2]float64{0.4, 1.016}, [2]float64{60, 58}, [2]float64{300, 118}, ""},
		"onto a shallow line out of a swell": {[2]float64{2.3, 0.92}, [2]float64{150, 99}, [2]float64{410, 700}, ""},
		"onto a deep line":                   {[2]float64{0.74, 1.98}, [2]float64{9.8, 16.3}, [2]float64{32.5, 20.5}, ""},
		"onto a shallow line, signal alone":  {[2]float64{2.54, 1.0}, [2]float64{none, none}, [2]float64{400, 560}, ""},
		"down a step, no current":            {[2]float64{0.4, 1.016}, [2]float64{none, none}, [2]float64{300, 118}, ""},
	} {
		tr := walked(20, func(i int) float64 { return c.depthM[min(i/10, 1)] })
		for i := range tr.Readings {
			r := &tr.Readings[i]
			if v := c.currentMA[min(i/10, 1)]; v != none {
				r.CurrentMA = v
			}
			if v := c.signal[min(i/10, 1)]; v != none {
				r.Signal = v
			}
		}
		if got := causes(tr, trace.Unknown); !strings.Contains(got, c.want) || c.want == "" && strings.Contains(got, "ratio") {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Nulls and marks that step aside where the depths change are another line's, and a step that
// is not a ratio of units but near one is none of them.
func TestDepthsThatChangeAside(t *testing.T) {
	step := func(times float64) trace.Trace {
		return walked(24, func(i int) float64 { return []float64{1, times}[min(i/12, 1)] })
	}
	nulls, marks := step(1/3.28), step(1/3.28)
	for i := range nulls.Readings {
		nulls.Readings[i].NullOffsetM = 0.03 * math.Sin(float64(3*i*i))
		marks.Readings[i].Pos.Y = 0.03 * math.Sin(float64(3*i*i))
		if i < 12 {
			nulls.Readings[i].NullOffsetM += 0.6
		} else {
			marks.Readings[i].Pos.Y += 1.4
		}
	}
	for name, c := range map[string]struct {
		t    trace.Trace
		want bool
	}{"neither": {step(1 / 3.28), true}, "nulls": {nulls, false}, "marks": {marks, false}, "two and a third": {step(2.33), false}, "two and three quarters": {step(2.75), false}} {
		if got := causes(c.t, trace.Unknown); strings.Contains(got, "ratio") != c.want {
			t.Errorf("%s: %q, want a unit told %v", name, got, c.want)
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// Signals of a line by Ampère's law (package receiver), beside depths that are what
// the antennas give, or are not.
func TestDepthsAgainstTheirAntennas(t *testing.T) {
	with := func(shown float64, n int) trace.Trace {
		tr := walked(n, func(int) float64 { return 1.1 })
		for i := range tr.Readings {
			r := &tr.Readings[i]
			s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1.1, CurrentA: complex(0.1*math.Exp(-0.01*float64(i)), 0)}}}.Survey(0, 0.5)
			r.SignalLow, r.SignalHigh, r.DepthM = s.LowT, s.HighT, shown*r.DepthM
		}
		return tr
	}
	for _, c := range []struct {
		shown, gapM float64
		n           int
		want        string
	}{
		{1, 0.5, 20, ""}, {0.85, 0.5, 20, ""}, {1.2, 0.5, 20, ""},
		{0.6, 0.5, 20, "times those that the two antennas give"}, {1.5, 0.5, 20, "times those that the two antennas give"}, {3.28, 0.5, 20, "times those that the two antennas give"},
		{1, 0.3, 20, "times those that the two antennas give"}, {0.6, 0.5, 6, ""},
		{1, trace.Unknown, 20, ""}, {3.28, trace.Unknown, 20, "imply antennas"},
	} {
		got := causes(with(c.shown, c.n), c.gapM)
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) || strings.Contains(got, "NOT TOLD") {
			t.Errorf("%.2f times the depth, %d readings, %.1f m: %q, want %q", c.shown, c.n, c.gapM, got, c.want)
		}
	}
	// Of antennas that no receiver has it is told which way the depths are wrong.
	for shown, want := range map[float64]string{0.2: "the line may lie several times deeper than drawn", 3.28: "the line may lie several times shallower than drawn"} {
		if got := againstAntennas(with(shown, 20), trace.Unknown, []trace.Input{{}}); len(got) != 1 || !strings.Contains(said(got[0].Advice[0].Remark), want) {
			t.Errorf("%.2f times the depth: %+v, want %q", shown, got, want)
		}
	}
}

func TestDepthDisplayAtItsEnd(t *testing.T) {
	deep := func(i int) float64 { return 1 + 3*math.Exp(-math.Pow(float64(i-15)/5, 2)) }
	clip := func(t trace.Trace, end float64) trace.Trace {
		for i := range t.Readings {
			t.Readings[i].DepthM = math.Min(t.Readings[i].DepthM, end)
		}
		return t
	}
	if got := causes(clip(walked(30, deep), 3), trace.Unknown); !strings.Contains(got, "exactly 3.00 m") {
		t.Errorf("a display that ends at 3 m: %q", got)
	}
	if got := causes(walked(30, deep), trace.Unknown); got != "" {
		t.Errorf("a dive that is shown: %q", got)
	}
	// Steps of a foot repeat anyhow.
	coarse := walked(30, deep)
	for i := range coarse.Readings {
		coarse.Readings[i].DepthM = math.Round(coarse.Readings[i].DepthM/geo.FootM) * geo.FootM
	}
	if got := causes(coarse, trace.Unknown); strings.Contains(got, "exactly") {
		t.Errorf("whole feet: %q", got)
	}
}
