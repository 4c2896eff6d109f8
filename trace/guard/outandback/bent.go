package outandback

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"loamline.example/geo"
	"loamline.example/trace/guard/sidestep"
)

// What tells that places lie beside a bent course. Judgement.
const (
	// The course there is a polynomial of a degree from leastDegree to mostDegree, told
	// by spare places more than it has unknowns. One that is two degrees higher and has
	// no step in it must do clearly worse, smoothWorse times.
	leastDegree, mostDegree = 3, 6
	spare                   = 3
	smoothWorse             = 2.0
	// surelyAside is how many standard errors an excursion must be wide: a line laid with
	// corners and sweeps is no polynomial, and at 6 one clean walk in twenty had one.
	// overOwn is how many times a place's own error: a loose walk's error wanders out and
	// back by itself, which no standard error of places tells.
	surelyAside, overOwn = 12, 12
)

// OffsetBetween tells whether the places follow one smooth course but for the same
// offset of all but the first and the last m of them: how wide it is, positive to
// the right, and how many standard errors that is.
func OffsetBetween(ps []geo.XY, m int, ownM float64) (lateralM, t float64, ok bool) {
	way := ps[len(ps)-1].Sub(ps[0])
	half := way.Norm() / 2
	if half == 0 {
		return 0, 0, false
	}
	dir, mid := way.Scale(0.5/half), ps[0].Lerp(ps[len(ps)-1], 0.5)
	along, side := make([]float64, len(ps)), make([]float64, len(ps))
	for i, p := range ps {
		along[i], side[i] = p.Sub(mid).Dot(dir)/half, -dir.Cross(p.Sub(mid))
		if i > 0 && along[i] <= along[i-1] {
			return 0, 0, false
		}
	}
	for degree := leastDegree; degree <= mostDegree && len(ps) >= degree+3+spare; degree++ {
		stepped, smooth := mat.NewDense(len(ps), degree+2, nil), mat.NewDense(len(ps), degree+3, nil)
		for i := range ps {
			powers(stepped, i, degree, along[i])
			powers(smooth, i, degree+2, along[i])
			if i >= m && i < len(ps)-m {
				stepped.Set(i, degree+1, 1)
			}
		}
		w, unit, scatter, worst := lastOf(stepped, side)
		sigma := unit * max(scatter, ownM) // few places may lie on a curve by chance
		width := math.Abs(w)
		if !(width >= sidestep.LeastM && width <= sidestep.MostM && width >= surelyAside*sigma && width >= overOwn*ownM && worst <= max(sidestep.StraightShare*width, sidestep.OverOwnOff*ownM)) {
			continue
		}
		if _, _, s, _ := lastOf(smooth, side); s >= smoothWorse*max(scatter, ownM) {
			return w, width / sigma, true
		}
	}
	return 0, 0, false
}

// powers writes 1, x, x² … into a row.
func powers(a *mat.Dense, row, degree int, x float64) {
	p := 1.0
	for d := 0; d <= degree; d++ {
		a.Set(row, d, p)
		p *= x
	}
}

// lastOf solves for y in the sense of least squares, and returns the last unknown, its
// standard error where that of y is 1, the scatter of y and the largest residual; all
// NaN where the columns do not tell the unknowns apart.
func lastOf(a *mat.Dense, y []float64) (last, unit, scatter, worst float64) {
	rows, n := a.Dims()
	var qr mat.QR
	qr.Factorize(a)
	var x, r mat.VecDense
	if err := qr.SolveVecTo(&x, false, mat.NewVecDense(rows, y)); err != nil {
		return math.NaN(), math.NaN(), math.NaN(), math.NaN()
	}
	r.MulVec(a, &x)
	sum := 0.0
	for i := range y {
		e := y[i] - r.AtVec(i)
		sum, worst = sum+e*e, max(worst, math.Abs(e))
	}
	var upper mat.Dense
	qr.RTo(&upper)
	return x.AtVec(n - 1), 1 / math.Abs(upper.At(n-1, n-1)), math.Sqrt(sum / float64(rows-n)), worst
}
