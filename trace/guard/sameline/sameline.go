// Package sameline tells by what a receiver shows whether a step to the side is the line's own.
package sameline

import (
	"math"
	"slices"
)

// Figures are what one reading shows; what was not read is not above zero, or unknown.
type Figures struct{ DepthM, Signal, CurrentMA float64 }

// A receiver that goes over to another line shows how deep that one lies and what flows in
// it: seldom what its own line showed. An offset made with fittings changes neither. Judgement.
const (
	sameDepth  = 0.1  // ln, between the medians of both sides
	sameSignal = 0.15 // ln, likewise of signal and current
	fewest     = 3    // readings on each side that tell
	most       = 5    // that are asked, next to the step
)

// Across reports whether depth and signal, and the current where it is read, go on over a step
// as they were. Both sides begin next to it.
func Across(before, after []Figures) bool {
	same := func(within float64, of func(Figures) float64) (same, known bool) {
		a, okA := middle(before, of)
		b, okB := middle(after, of)
		return math.Abs(a-b) < within, okA && okB
	}
	depth, okD := same(sameDepth, func(f Figures) float64 { return f.DepthM })
	signal, okS := same(sameSignal, func(f Figures) float64 { return f.Signal })
	current, okC := same(sameSignal, func(f Figures) float64 { return f.CurrentMA })
	return okD && okS && depth && signal && (current || !okC)
}

// middle is the median ln of a figure.
func middle(side []Figures, of func(Figures) float64) (float64, bool) {
	var ln []float64
	for _, f := range side {
		if x := of(f); x > 0 && len(ln) < most {
			ln = append(ln, math.Log(x))
		}
	}
	if len(ln) < fewest {
		return 0, false
	}
	slices.Sort(ln)
	return (ln[(len(ln)-1)/2] + ln[len(ln)/2]) / 2, true
}
