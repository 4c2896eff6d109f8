package bleed

import (
	"math"
	"testing"

	"loamline.example/trace/receiver"
)

// Two lines that show what was read over either are found again: how deep the first one lies,
// of currents that flow alike, which read too deep, and of opposed ones, which read too shallow.
func TestBesideAJumpTheOtherLineIsHeard(t *testing.T) {
	for _, share := range []float64{0.9, -1} {
		c := testColumns()
		lines := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 1}, {XM: -2.2, DepthM: 1.1, CurrentA: complex(share, 0)}}}
		own, other := lines.Survey(0, c.gapM), lines.Survey(-2.2, c.gapM)
		for k := range c.rd {
			shown := own
			if s := c.rd[k].StationM; s >= 20 && s <= 40 {
				shown = other
			}
			c.lnD[k] += math.Log(shown.DepthM)
			c.lnS[k] += math.Log(shown.LowT)
			c.null[k] += shown.NullOffsetM
		}
		x := Crossed{FromM: 20, ToM: 40, AsideM: own.PeakM - other.PeakM, SigmaM: 0.2, Sided: true, Likely: 0.5}
		b, ok := c.besideJump([]Crossed{x}, x, 0, 20)
		if ln := math.Log(own.DepthM); !ok || ln < b.LnLeast || ln > b.LnMost {
			t.Errorf("%.1f of the current: the depth shown is off by %.2f in its ln, and %+v is told (%v)", share, ln, b, ok)
		}
		if math.Abs(own.PeakM) > b.ShiftM+0.03 {
			t.Errorf("%.1f of the current: the mark is off by %.2f m, and %.2f is told", share, own.PeakM, b.ShiftM)
		}
	}
	// One line with an offset made by fittings: depths, signals and nulls of one line.
	c := testColumns()
	x := Crossed{FromM: 20, ToM: 40, AsideM: 2, SigmaM: 0.2, Likely: 0.5}
	if b, ok := c.besideJump([]Crossed{x}, x, 0, 20); ok && math.Max(b.LnMost, -b.LnLeast) > 0.15 {
		t.Errorf("one line alone: %+v", b)
	}
}
