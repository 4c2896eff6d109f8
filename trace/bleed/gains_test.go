package bleed

import (
	"math"
	"testing"
)

// Current that is higher along a stretch than before and beyond it is dearer, as a
// line's own doing, than current that is as much lower there.
func TestCurrentThatComesAndGoesIsDearer(t *testing.T) {
	alone := func(times float64) (gains bool, overNone float64) {
		line := fewReadings(2, make([]float64, 60)...)
		for i := range line.Readings {
			r := &line.Readings[i]
			r.DepthM, r.CurrentMA = 1+0.01*math.Sin(float64(7*i)), 50*(1+0.01*math.Sin(float64(5*i)))
			if i >= 20 && i <= 40 {
				r.CurrentMA *= times
			}
		}
		line.rd = inStationOrder(line.Readings)
		c := newColumns(line)
		n := len(c.rd)
		st := newUncoupled(c, 0, n, residual{ds: append(append([]float64(nil), c.lnD...), c.lnS...), null: c.null, pos: c.course.acrossM})
		st.fitAll()
		g := together{hi: n, from: 20, to: 40, fromM: 39, toM: 81, taperM: 1}
		return st.gains(g), st.byItself(g, math.Inf(1)) - st.log
	}
	more, moreOver := alone(1.5)
	less, lessOver := alone(1 / 1.5)
	if !more || less {
		t.Errorf("more current gains %v, less %v", more, less)
	}
	if math.Abs(lessOver-moreOver-gainMore) > 1 {
		t.Errorf("current alone speaks for itself by %.1f nats where higher and %.1f where lower, %v apart expected", moreOver, lessOver, gainMore)
	}
}
