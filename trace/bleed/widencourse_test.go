package bleed

import (
	"testing"

	"loamline.example/geo"
)

// Marks that slide 0.8 m aside at once and come back: the caution holds the
// course that they left, and a side that contradicts it is not told. Where marks
// stay on their course nothing changes.
func TestCautionHoldsTheCourseLeft(t *testing.T) {
	for _, slidM := range []float64{0.8, 0} {
		c := marksOn(50, func(s float64) geo.XY { return geo.XY{X: s} })
		for range c.rd {
			c.depth = append(c.depth, 1)
		}
		for k := 20; k <= 30; k++ {
			c.rd[k].Pos.Y += slidM // to the left: the course lies to the right
		}
		s := Stretch{ShiftM: 0.2, Shift95M: 0.2, Side: "left", WidenLeftM: 0.4}
		c.widenToCourse(&s, finding{coupledFit: coupledFit{coupled: 1}, from: 20, to: 30})
		switch {
		case slidM > 0 && (s.WidenRightM < slidM || s.WidenRightM > slidM+0.5 || s.Side != ""):
			t.Errorf("slid %g m: held %.2f m to the right, side %q", slidM, s.WidenRightM, s.Side)
		case slidM == 0 && (s.WidenRightM != 0 || s.Side != "left"):
			t.Errorf("not slid: held %.2f m to the right, side %q", s.WidenRightM, s.Side)
		}
	}
}
