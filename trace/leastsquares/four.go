// Package leastsquares fits few unknowns to few places: whether two runs of marks lie on
// one smooth course but for a step, on two legs that meet, or on a curve without one.
//
// The checks of the finished line and the detector ask that of every place of a walk,
// and of each at several widths: a fit of ten rows takes a fifteenth of the time here,
// and no memory, of what the QR factorization of gonum/mat takes (BenchmarkFitFour),
// whose results TestAgainstQR holds these to. What is asked seldom, or of more unknowns,
// goes by gonum.
package leastsquares

import "math"

// Four is a fit of y by four unknowns, one to a column of the rows.
type Four struct {
	X     [4]float64
	Unit  float64 // standard error of the first unknown where that of y is 1
	SumSq float64 // of the residuals
	Worst float64 // the largest residual
	rows  int
}

// leastPivot is from where a column tells its unknown apart from those before it; rows
// are of the order of 1 (a bound of the arithmetic).
const leastPivot = 1e-9

// FitFour solves the normal equations by Gauss-Jordan elimination with row pivoting;
// false where the columns do not tell the unknowns apart.
func FitFour(rows [][4]float64, y []float64) (fit Four, ok bool) {
	// The normal equations, beside them the right-hand side and a first unit column (places
	// in the table, derived from its shape).
	const unit = 5
	var m [4][unit + 1]float64
	m[0][unit] = 1
	for i, r := range rows {
		for j := range r {
			for k := range r {
				m[j][k] += r[j] * r[k]
			}
			m[j][4] += r[j] * y[i]
		}
	}
	for c := range 4 {
		p := c
		for r := c + 1; r < 4; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if math.Abs(m[p][c]) < leastPivot {
			return Four{}, false
		}
		m[c], m[p] = m[p], m[c]
		for r := range 4 {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := range m[r] {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	fit = Four{Unit: math.Sqrt(m[0][unit] / m[0][0]), rows: len(rows)}
	for k := range fit.X {
		fit.X[k] = m[k][4] / m[k][k]
	}
	for i, r := range rows {
		e := y[i]
		for k := range r {
			e -= r[k] * m[k][4] / m[k][k]
		}
		fit.SumSq, fit.Worst = fit.SumSq+e*e, math.Max(fit.Worst, math.Abs(e))
	}
	return fit, true
}

// Scatter is one sigma of y about the fit; not a number where no row is to spare.
func (f Four) Scatter() float64 { return math.Sqrt(f.SumSq / float64(f.rows-len(f.X))) }
