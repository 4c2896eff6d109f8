package otherworld

import (
	"math"
	"math/cmplx"
)

// habit is what a locator marks.
type habit int

const (
	byPeak habit = iota
	byNull
	byBoth // midway where both agree to 0.15 m, else the peak
)

// agreeM is how near peak and null are called one place.
const agreeM = 0.15

// found is what a patient search across the line comes to, without noise.
type found struct {
	peak, null float64 // to the right of the line
	mark       float64
	floor      float64 // vertical field at the null over horizontal at the peak
	toward     complex128
}

// search moves from a place to where the signal is largest, then to where the
// vertical field is least.
func (rc receiver) search(s slice, from float64, h habit) found {
	z := rc.footM
	var f found
	f.peak = climb(from, func(x float64) float64 { return rc.strength(s, x, z) })
	f.null = climb(f.peak, func(x float64) float64 { return -cmplx.Abs(s.field(x, z)[2]) })
	f.toward = s.field(f.peak, z).along(s.right)
	f.floor = cmplx.Abs(s.field(f.null, z)[2]) / cmplx.Abs(f.toward)
	switch {
	case h == byNull:
		f.mark = f.null
	case h == byBoth && math.Abs(f.peak-f.null) < agreeM:
		f.mark = (f.peak + f.null) / 2
	default:
		f.mark = f.peak
	}
	return f
}

// climb goes uphill in ever smaller steps, no further than a locator reaches.
func climb(from float64, height func(x float64) float64) float64 {
	const reachM = 2.5
	x, at := from, height(from)
	for step := 0.08; step > 2e-4; step /= 4 {
		for _, side := range [2]float64{-1, 1} {
			for math.Abs(x-from) < reachM {
				h := height(x + side*step)
				if h <= at {
					break
				}
				x, at = x+side*step, h
			}
		}
	}
	return x
}
