package leastsquares

import (
	"math"

	"loamline.example/geo"
)

// Straight is the straight line through places from which they lie least far, square to it
// (total least squares; Golub and Van Loan, 1980, SIAM J. Numer. Anal. 17:883), on the way
// from the first to the last of them: their middle, and a direction of unit length.
func Straight(at []geo.XY) (mid, dir geo.XY) {
	for _, p := range at {
		mid = mid.Add(p.Scale(1 / float64(len(at))))
	}
	var xx, xy, yy float64
	for _, p := range at {
		d := p.Sub(mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	dir = geo.XY{X: cos, Y: sin}
	if dir.Dot(at[len(at)-1].Sub(at[0])) < 0 {
		dir = dir.Scale(-1)
	}
	return mid, dir
}
