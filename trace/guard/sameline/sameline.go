// Package sameline tells by what a receiver shows whether a step to the side, or another depth,
// is the line's own.
package sameline

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
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

// slipPart is which part of what a line at another depth does to signal or current tells it
// from a slip of the display. Judgement.
const slipPart = 0.5

// Slipped reports whether the signal of a reading did not change as those about it would over a
// line at another depth, whose ln is less than about it by rise, or, where it has none, whether
// the current changed with the depth: the receiver makes it of both.
func Slipped(own Figures, about []Figures, rise float64) bool {
	change := func(of func(Figures) float64) (change float64, known bool) {
		var ln []float64
		for _, f := range about {
			if x := of(f); x > 0 {
				ln = append(ln, math.Log(x))
			}
		}
		x := of(own)
		if len(ln) == 0 || !(x > 0) {
			return 0, false
		}
		return (math.Log(x) - ranked.Median(ln)) / rise, true
	}
	if signal, ok := change(func(f Figures) float64 { return f.Signal }); ok {
		return signal < slipPart
	}
	current, ok := change(func(f Figures) float64 { return f.CurrentMA })
	return ok && current < -slipPart
}
