package receiver

import "math"

// FullScale is the end of a display of signals, +Inf where none was reached: the
// largest signal of a trace, where it was shown at several readings (three, and one in
// twenty). Beyond it both antennas show the same, which looks like no line at all, and
// the lower one alone at the end looks like a line that is too deep.
func FullScale(signals []float64) float64 {
	top, n, read := math.Inf(-1), 0, 0
	for _, s := range signals {
		if math.IsNaN(s) {
			continue
		}
		read++
		switch {
		case s > top:
			top, n = s, 1
		case s == top:
			n++
		}
	}
	// One in twenty at one figure is no chance. Judgement.
	if n >= 3 && 20*n >= read {
		return top
	}
	return math.Inf(1)
}
