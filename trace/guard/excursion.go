package guard

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// What tells an excursion. Judgement.
const (
	// An excursion keeps leastRun to mostRun places beside the course.
	leastRun, mostRun = 3, 14
	// leastAround to mostAround places before and after it show the course.
	leastAround, mostAround = 3, 6
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
	// likeSides is how much the step out and the step back may differ, of the wider, and
	// the least part of the width that either goes aside in its one stride.
	likeSides = 0.5
)

// excursions finds where the walk goes over to a course beside and comes back, in
// bends too: what lies before, between and after is one smooth course but for the
// same offset of all places between. It looks at the walk itself, whatever the line
// made of its places: readings that were set aside and gaps hide no step.
// One that a step found already is about, told, is not told again.
func (v *view) excursions(known []Breach) []Breach {
	walk := v.walkOf()
	at := make([]geo.XY, len(walk))
	for k, i := range walk {
		at[k] = v.Readings[i].Pos
	}
	// Only a stride that goes aside of those around it begins or ends an excursion.
	aside := make([]float64, len(walk))
	for k := 1; k+2 < len(at); k++ {
		if a := sideways(at[k-1 : k+3]); math.Abs(a) >= math.Max(sidestep.LeastM/2, 2*v.ownM(walk[k])) {
			aside[k] = a
		}
	}
	var out []Breach
	for k := leastAround - 1; k < len(at); k++ {
		best, last, bestT := 0.0, 0, 0.0
		for n := leastRun; aside[k] != 0 && n <= mostRun && k+n+leastAround < len(at); n++ {
			if back := aside[k+n]; back*aside[k] >= 0 || math.Abs(back+aside[k]) > likeSides*math.Max(math.Abs(back), math.Abs(aside[k])) {
				continue
			}
			for m := leastAround; m <= mostAround && k+1-m >= 0 && k+n+m < len(at); m++ {
				if w, t, ok := offsetBetween(at[k+1-m:k+n+m+1], m, v.ownM(walk[k])); ok && t > bestT && math.Min(math.Abs(aside[k]), math.Abs(aside[k+n])) >= likeSides*math.Abs(w) {
					best, last, bestT = w, k+n, t
				}
			}
		}
		if bestT == 0 {
			continue
		}
		from, to := math.Inf(1), math.Inf(-1)
		for _, i := range walk[k : last+2] {
			if v.feet[i].part >= 0 {
				from, to = math.Min(from, v.feet[i].stationM), math.Max(to, v.feet[i].stationM)
			}
		}
		w := math.Abs(best)
		if from < to && !slices.ContainsFunc(known, func(b Breach) bool {
			return b.FromM <= to && b.ToM >= from && b.ToM-b.FromM <= 2*(to-from)
		}) {
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: w * (1 + sidestep.StraightShare), SeparationM: w,
				Remark: remark.Excursion{LateralM: w, WithinM: at[k].Dist(at[k+1]), BackAtM: v.feet[walk[last]].stationM}})
		}
		k = last
	}
	return out
}

// walkOf lists the readings that tell of a course in the order in which they were
// taken, less those at a place where the walk stands.
func (v *view) walkOf() []int {
	var on []int
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status != trace.StatusUsed && !r.Outlier() || v.feet[i].part < 0 {
			continue
		}
		if n := len(on); n > 0 && r.Pos.Dist(v.Readings[on[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		on = append(on, i)
	}
	return on
}

// sideways is how far the middle one of three strides goes aside of the mean way of
// the others, positive to the right.
func sideways(ps []geo.XY) float64 {
	p, q := ps[1].Sub(ps[0]), ps[3].Sub(ps[2])
	if p.Norm() == 0 || q.Norm() == 0 {
		return 0
	}
	dir := p.Scale(1 / p.Norm()).Add(q.Scale(1 / q.Norm()))
	if dir.Norm() == 0 {
		return 0
	}
	return -dir.Scale(1 / dir.Norm()).Cross(ps[2].Sub(ps[1]))
}

// offsetBetween tells whether the places follow one smooth course but for the same
// offset of all but the first and the last m of them: how wide it is, positive to
// the right, and how many standard errors that is.
func offsetBetween(ps []geo.XY, m int, ownM float64) (lateralM, t float64, ok bool) {
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
		sigma := unit * math.Max(scatter, ownM) // few places may lie on a curve by chance
		width := math.Abs(w)
		if !(width >= sidestep.LeastM && width <= sidestep.MostM && width >= surelyAside*sigma && width >= overOwn*ownM && worst <= math.Max(sidestep.StraightShare*width, sidestep.OverOwnOff*ownM)) {
			continue
		}
		if _, _, s, _ := lastOf(smooth, side); s >= smoothWorse*math.Max(scatter, ownM) {
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
		sum, worst = sum+e*e, math.Max(worst, math.Abs(e))
	}
	var upper mat.Dense
	qr.RTo(&upper)
	return x.AtVec(n - 1), 1 / math.Abs(upper.At(n-1, n-1)), math.Sqrt(sum / float64(rows-n)), worst
}
