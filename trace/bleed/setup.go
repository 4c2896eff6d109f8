package bleed

import (
	"math"

	"loamline.example/trace/setups"
)

// A locator who changes frequency or hookup on the way has another current in the same
// line from there on. That is no sign of anything: each setup is brought to the level
// that goes on from the one before.

// setupSide is how many readings on each side of a change tell by how much the current
// differs. Judgement.
const setupSide = 3

// levelSetups brings the log signal of each setup to the level that goes on from the one that
// the walk came by before it first.
func (c *columns) levelSetups() {
	of, v := make([]setups.Setup, len(c.walk)), make([]float64, len(c.walk)) // in the order of the walk; ln of the current
	for i, k := range c.walk {
		of[i], v[i] = c.rd[k].setup, c.lnS[k]+c.lnD[k]
	}
	type change struct{ from, to setups.Setup }
	steps := map[change][]float64{}
	for i := 1; i < len(of); i++ {
		if of[i] == of[i-1] {
			continue
		}
		before, okB := sideOfChange(v, of, i-1, -1)
		after, okA := sideOfChange(v, of, i, 1)
		if okB && okA {
			there, back := change{of[i-1], of[i]}, change{of[i], of[i-1]}
			steps[there], steps[back] = append(steps[there], after-before), append(steps[back], before-after)
		}
	}
	level := map[setups.Setup]float64{}
	for i, k := range c.walk {
		if _, known := level[of[i]]; !known {
			level[of[i]] = 0
			if i > 0 && len(steps[change{of[i-1], of[i]}]) > 0 {
				level[of[i]] = level[of[i-1]] + median(steps[change{of[i-1], of[i]}])
			}
		}
		c.lnS[k] -= level[of[i]]
	}
}

// sideOfChange is the median of the nearest values on one side of a change, of the
// setup there.
func sideOfChange(v []float64, of []setups.Setup, from, step int) (float64, bool) {
	var near []float64
	for i := from; i >= 0 && i < len(v) && of[i] == of[from] && len(near) < setupSide; i += step {
		if !math.IsNaN(v[i]) {
			near = append(near, v[i])
		}
	}
	if len(near) == 0 {
		return 0, false
	}
	return median(near), true
}
