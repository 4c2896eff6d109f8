package clean

import (
	"slices"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Figures that no instrument gives in the unit of their header are told; those that
// some give are not.
func TestImplausibleColumns(t *testing.T) {
	for name, c := range map[string]struct {
		set  func(r *trace.Reading)
		want string
	}{
		"amperes for milliamperes": {func(r *trace.Reading) { r.CurrentMA = 0.05 }, "about 0.05 mA, which no traced line carries"},
		"microamperes":             {func(r *trace.Reading) { r.CurrentMA = 50000 }, "about 50000 mA"},
		"a weak current":           {func(r *trace.Reading) { r.CurrentMA = 0.5 }, ""},
		"a strong current":         {func(r *trace.Reading) { r.CurrentMA = 2000 }, ""},
		"centimetres as metres":    {func(r *trace.Reading) { r.HAccM, r.Fix = 1.2, trace.FixRTK }, "which no such fix has"},
		"a fix of corrections":     {func(r *trace.Reading) { r.HAccM, r.Fix = 1.2, trace.FixDifferential }, ""},
		"metres as centimetres":    {func(r *trace.Reading) { r.HAccM = 0.00012 }, "less than 1 mm"},
		"a good fix":               {func(r *trace.Reading) { r.HAccM, r.Fix = 0.008, trace.FixRTK }, ""},
		"currents of zero":         {func(r *trace.Reading) { r.CurrentMA = 0 }, "the currents are mostly zero"},
		"currents with a sign":     {func(r *trace.Reading) { r.CurrentMA = -60 }, "mostly less than zero"},
		"a few nulls of 9.99 m": {func(r *trace.Reading) {
			if r.NullOffsetM = 0.01; r.Row == 4 {
				r.NullOffsetM = 9.99
			}
		}, "1 of 12 null offsets are 9.99 m, which a receiver writes for none"},
		"nulls that swing 0.31 m": {func(r *trace.Reading) { r.NullOffsetM = 0.31 * float64(r.Row%2) }, "change mostly by 0.31 m"},
		"nulls that swing 0.29 m": {func(r *trace.Reading) { r.NullOffsetM = 0.29 * float64(r.Row%2) }, ""},
		"antennas swapped":        {func(r *trace.Reading) { r.SignalLow, r.SignalHigh = 700, 1000 }, "1.43 times what the bottom one does"},
		"through the air":         {func(r *trace.Reading) { r.SignalLow, r.SignalHigh = 1000, 1020 }, ""},
		"one row alone": {func(r *trace.Reading) {
			if r.Row == 4 {
				r.CurrentMA = 0.05
			}
		}, ""},
	} {
		tr := walked(12, func(int) float64 { return 1 })
		for i := range tr.Readings {
			c.set(&tr.Readings[i])
		}
		var got []string
		for _, f := range implausible(tr, 0.4, []trace.Input{{Name: "walk.csv"}}) {
			got = append(got, said(f.Problem.Remark))
			if swapped := strings.Contains(name, "swapped") || strings.Contains(name, "a sign"); swapped != (f.Problem.Check != nil) {
				t.Errorf("%s: to check: %q", name, said(f.Problem.Check))
			}
		}
		if all := strings.Join(got, "\n"); len(got) > 1 || c.want == "" && all != "" || !strings.Contains(all, c.want) {
			t.Errorf("%s: %q", name, all)
		}
	}
}

// Depths that are less than any line lies deep are left out and told; shallow ones, and
// those of a line that comes up to the ground, are not.
func TestDepthsLessThanAnyLineLiesDeep(t *testing.T) {
	for name, c := range map[string]struct {
		depth func(i int) float64
		want  bool
	}{
		"metres as inches":      {func(int) float64 { return 1.0 * geo.InchM }, true},
		"metres as centimetres": {func(int) float64 { return 0.01 }, true},
		"4 cm":                  {func(int) float64 { return 0.04 }, true},
		"6 cm":                  {func(int) float64 { return 0.06 }, false},
		"a shallow drop":        {func(int) float64 { return 0.12 }, false},
		"up to the ground":      {func(i int) float64 { return 0.6 - 0.05*float64(i) }, false},
	} {
		tr := walked(12, c.depth)
		told := strings.Contains(causes(tr, trace.Unknown), "less than any line lies deep")
		left := tr.Readings[2].DepthDropped && !trace.Known(tr.Readings[2].DepthM)
		if told != c.want || left != c.want {
			t.Errorf("%s: told %v, left out %v", name, told, left)
		}
	}
}

// Where both antennas were read and no depth, the distance between them is all that lacks.
func TestAntennasWithoutGap(t *testing.T) {
	for _, c := range []struct {
		name     string
		gap      float64
		depth    bool
		wantTold bool
	}{{"no gap", trace.Unknown, false, true}, {"a gap", 0.4, false, false}, {"depths", trace.Unknown, true, false}} {
		tr := walked(12, func(int) float64 { return 1 })
		for i := range tr.Readings {
			r := &tr.Readings[i]
			if r.SignalLow, r.SignalHigh = 140, 100; !c.depth {
				r.DepthM = trace.Unknown
			}
		}
		told := false
		for _, f := range implausible(tr, c.gap, []trace.Input{{Name: "walk.csv"}}) {
			told = told || f.Problem.Check != nil && strings.Contains(said(f.Problem.Check), "State antenna_gap_m")
		}
		if told != c.wantTold {
			t.Errorf("%s: told: %v", c.name, told)
		}
	}
}

// A stated accuracy that the fix seldom has is told, of most readings; one that it has, or
// that no fix bears out, is not.
func TestAccuraciesOfBetterFix(t *testing.T) {
	for _, c := range []struct {
		fix     trace.Fix
		statedM float64
		told    bool
	}{{2, 0.05, true}, {2, 0.2, true}, {2, 0.3, false}, {9, 0.1, true}, {1, 0.6, true}, {1, 1.5, false}, {2, 0.01, false}, {4, 0.015, false}, {5, 0.1, false}, {trace.FixUnknown, 0.05, false}} {
		tr := trace.Trace{Name: "W-1"}
		for i := range 12 {
			r := trace.NewReading()
			r.Row, r.Fix, r.HAccM, r.DepthM = int32(i+2), c.fix, c.statedM, 1+0.01*float64(i%4)
			tr.Readings = append(tr.Readings, r)
		}
		told := false
		for _, found := range Contradictions(tr, trace.Unknown, []trace.Input{{Name: "a.csv"}}) {
			if r, is := found.Problem.Check.(remark.OnLine); is {
				_, better := r.What.(remark.AccuraciesOfBetterFix)
				told = told || better
			}
		}
		if told != c.told {
			t.Errorf("fix %d stating %g m: told %v", c.fix, c.statedM, told)
		}
	}
}

// What a fix of such a dilution seldom has, and may share, does not hang on which row stands
// last.
func TestBetterThanFixInAnyOrder(t *testing.T) {
	tr := walked(12, func(int) float64 { return 1 })
	for i := range tr.Readings {
		r := &tr.Readings[i]
		r.Fix, r.HAccM, r.HDOP = trace.FixDifferential, 0.06, 0.8+0.2*float64(i)
	}
	a, told := betterThanFix(tr)
	slices.Reverse(tr.Readings)
	b, _ := betterThanFix(tr)
	if !told || a != b {
		t.Errorf("told %v: %+v, and with the rows turned round %+v", told, a, b)
	}
}
