package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// Over a lone step that neither depth nor signal show the band holds both courses over the step
// alone; where the depth is another behind it, or no signal was read, all along as before.
func TestStepOfOneLine(t *testing.T) {
	for what, c := range map[string]struct {
		deeperM, signal float64
		same            bool
	}{
		"depth and signal go on":   {0, 100, true},
		"another depth behind it":  {0.4, 100, false},
		"no signal in the table":   {0, 0, false},
		"another signal behind it": {0, -60, false},
	} {
		at := make([]geo.XY, 60)
		for i := range at {
			at[i] = geo.XY{X: 2 * float64(i)}
			if i >= 30 {
				at[i].Y = 1.5
			}
		}
		l := read(line(0.05, at...), at...)
		for i := range l.Readings {
			r := &l.Readings[i]
			if r.DepthM = 1; c.signal != 0 {
				r.Signal = 100
			}
			if i >= 30 {
				r.DepthM += c.deeperM
				if c.signal < 0 {
					r.Signal = -c.signal
				}
			}
		}
		found := false
		for _, b := range Check(l, rule(), Step) {
			r, is := b.Remark.(remark.LateralStep)
			if !is {
				continue
			}
			found = true
			if r.SameLine != c.same || b.Whole == c.same || c.same && (b.FromM < 50 || b.ToM > 70) {
				t.Errorf("%s: %+v, whole %v, %.0f to %.0f m", what, r, b.Whole, b.FromM, b.ToM)
			}
		}
		if !found {
			t.Errorf("%s: no step", what)
		}
	}
}
