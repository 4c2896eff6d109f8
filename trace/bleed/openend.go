package bleed

import "math"

// Along a line that is insulated at its far end the current falls to nothing
// there, as sinh(α(L−s)) (Sunde, Earth Conduction Effects in Transmission Systems,
// from memory): in logs as that of the distance left, beside a steady slope.
// openEndsM are the distances tried of that end from the last reading: a grid.
var openEndsM = []float64{3, 10, 30, 100}

// openEndSD is the amplitude, one sigma: 1 is a line that loses little otherwise.
// Judgement.
const openEndSD = 1

// openEndFalls is how many times nearer to the end the one side of a window must be than the
// other for the current to fall there otherwise than along a slope: at twice, by 0.06 in logs
// in its middle (derived from the logarithm). A dense walk has many windows near an end and
// but one that reaches it.
const openEndFalls = 2

// openEndShapes are the columns of a line that ends soon after the first or after
// the last reading of the trace.
func (c *columns) openEndShapes(lo, n int) []shape {
	var out []shape
	first, last := c.rd[0].StationM, c.rd[len(c.rd)-1].StationM
	for _, e := range openEndsM {
		for _, ahead := range []bool{true, false} {
			from, to := c.rd[lo].StationM, c.rd[lo+n-1].StationM
			far, near, reaches := last+e-from, last+e-to, lo+n == len(c.rd)
			if !ahead {
				far, near, reaches = to-first+e, from-first+e, lo == 0
			}
			if !reaches && far < openEndFalls*near {
				continue // far from the end it is a slope
			}
			f := shape{sd: openEndSD, s: make([]float64, n)}
			var sum float64
			for k := range n {
				left := last + e - c.rd[lo+k].StationM
				if !ahead {
					left = c.rd[lo+k].StationM - first + e
				}
				f.s[k] = math.Log(left)
				sum += f.s[k]
			}
			for k := range f.s {
				f.s[k] -= sum / float64(n)
			}
			out = append(out, f)
		}
	}
	return out
}
