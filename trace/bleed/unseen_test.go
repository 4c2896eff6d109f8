package bleed

import (
	"math"
	"testing"

	"loamline.example/trace/receiver"
)

// A neighbour that carries up to 0.5 of the current along the whole trace moves
// the mark as package receiver reckons: the true line lies within what is held, with
// a null too; a null of 0 rules a large current the same way out (one
// the other way moves the null little where it reads shallow).
func TestUnseenShiftHoldsTheLine(t *testing.T) {
	const depthM, besideM, gapM = 1.0, 1.0, 0.4
	for _, share := range []float64{-0.5, -0.3, 0.3, 0.5} {
		lines := []receiver.Conductor{{DepthM: depthM, CurrentA: 1}, {XM: besideM, DepthM: depthM, CurrentA: complex(share, 0)}}
		shown := receiver.Section{Lines: lines}.Survey(0, gapM)
		e := neighbour{at: []neighbourAt{{asideM: besideM - shown.PeakM, depthM: depthM}}}
		c := &columns{depth: []float64{shown.DepthM}, gapM: gapM}
		for _, s := range []unseenShares{{whole: true}, {whole: true, nullIsThere: true, nullM: shown.NullOffsetM, sdM: 0.03}} {
			u := c.unseenAt(0, e, s)
			left, right := u.leftM, u.rightM
			if off := -shown.PeakM; off > right+0.01 || -off > left+0.01 {
				t.Errorf("share %g: the line lies %.3f m to the right, held %.3f and %.3f", share, off, left, right)
			}
		}
		open := c.unseenAt(0, e, unseenShares{whole: true}).leftM
		told := c.unseenAt(0, e, unseenShares{whole: true, nullIsThere: true, sdM: 0.02}).leftM
		if !(told < open) || math.IsNaN(told) {
			t.Errorf("share %g: a null of 0 leaves %.3f m of %.3f", share, told, open)
		}
	}
}
