package bleed

import (
	"math"
	"testing"
)

// Signal on a conductor in no drawn place is likelier where a line is drawn within
// reach, and no likelier for one that is drawn far off; a drawn neighbour's own odds
// do not change.
func TestDrawnNearMakesAnotherPlaceLikelier(t *testing.T) {
	c := &columns{rd: make([]reading, 3), depth: []float64{1, 1, 1}}
	for k := range c.rd {
		c.rd[k].FreqHz = 8192
	}
	drawn := func(asideM float64) neighbour {
		e := neighbour{name: "B", at: outOfReach(3)}
		for k := range e.at {
			e.at[k].asideM = asideM
		}
		return e
	}
	undrawn := neighbour{name: Unknown, path: -1}
	alone := c.priorAmong(undrawn, []neighbour{undrawn}, 0, 3)
	for _, a := range []struct{ asideM, times float64 }{{1, displacedKnown}, {5, 1}} {
		all := []neighbour{drawn(a.asideM), undrawn}
		if p := c.priorAmong(undrawn, all, 0, 3); math.Abs(p-a.times*alone) > 1e-9 {
			t.Errorf("a line drawn %.0f m off: %.3f, want %.0f times %.3f", a.asideM, p, a.times, alone)
		}
		if p := c.priorAmong(all[0], all, 0, 3); p != c.prior(all[0], 0, 3) {
			t.Errorf("a line drawn %.0f m off: its own odds change to %.3f", a.asideM, p)
		}
	}
}
