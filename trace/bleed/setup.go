package bleed

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace/setups"
)

// A locator who changes frequency or hookup on the way has another current in the same
// line from there on. That is no sign of anything: each setup is brought to the level
// that goes on from the one before.

// setupSide is how many readings on each side of a change tell by how much the current
// differs. Judgement.
const setupSide = 3

// levelSetups brings the log signal of all setups to the level of the one that most
// readings were taken with.
func (c *columns) levelSetups() {
	of := make([]setups.Setup, len(c.walk)) // in the order of the walk
	count := map[setups.Setup]int{}
	for i, k := range c.walk {
		of[i] = c.rd[k].setup
		count[of[i]]++
	}
	if len(count) < 2 {
		return
	}
	v := make([]float64, len(of)) // ln of the current
	for i, k := range c.walk {
		v[i] = c.lnS[k] + c.lnD[k]
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
			steps[change{of[i-1], of[i]}] = append(steps[change{of[i-1], of[i]}], after-before)
			steps[change{of[i], of[i-1]}] = append(steps[change{of[i], of[i-1]}], before-after)
		}
	}
	all := make([]setups.Setup, 0, len(count))
	for s := range count {
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b setups.Setup) int {
		return cmp.Or(count[b]-count[a], cmp.Compare(a.FreqHz, b.FreqHz), cmp.Compare(a.Hookup, b.Hookup))
	})
	rank := make(map[setups.Setup]int, len(all))
	for i, s := range all {
		rank[s] = i
	}
	next := map[setups.Setup][]setups.Setup{} // those that a change leads to, in the same order
	for s := range steps {
		next[s.from] = append(next[s.from], s.to)
	}
	level := map[setups.Setup]float64{all[0]: 0}
	for at := []setups.Setup{all[0]}; len(at) > 0; at = at[1:] {
		slices.SortFunc(next[at[0]], func(a, b setups.Setup) int { return rank[a] - rank[b] })
		for _, to := range next[at[0]] {
			if _, known := level[to]; !known {
				level[to] = level[at[0]] + median(steps[change{at[0], to}])
				at = append(at, to)
			}
		}
	}
	for i, k := range c.walk {
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
