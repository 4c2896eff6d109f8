package fit

import (
	"math"
	"slices"
)

// banded is a symmetric positive definite band matrix, stored by rows of its
// upper half: a[i*(k+1)+j] is the element (i, i+j), and its factor L·D·Lᵀ in
// the same place. Gonum's (lapack64.Pbtrf and Pbtrs) takes six times as long for 200 nodes and
// two diagonals, as it calls a routine for every two numbers, and most of a fit's time goes here.
type banded struct {
	n, k int
	a    []float64
}

func newBanded(n, k int) *banded { return &banded{n, k, make([]float64, n*(k+1))} }

// factor replaces the matrix by D on the diagonal and the unit upper factor
// beside it, and returns the logarithm of the determinant. A pivot that rounds
// to nothing is held at a tiny share of its diagonal.
func (b *banded) factor() float64 {
	if b.k == 2 {
		return b.factor2(nil)
	}
	w, logDet, product := b.k+1, 0.0, 1.0
	for i := 0; i < b.n; i++ {
		row := b.a[i*w : i*w+w]
		d := row[0]
		if !(d > 1e-300) {
			d = 1e-300
		}
		row[0] = d
		if product *= d; product > 1e100 || product < 1e-100 {
			logDet, product = logDet+math.Log(product), 1
		}
		for j := 1; j <= b.k && i+j < b.n; j++ {
			f := row[j] / d
			if f == 0 {
				continue
			}
			to := b.a[(i+j)*w:]
			for l := j; l <= b.k && i+l < b.n; l++ {
				to[l-j] -= f * row[l]
			}
		}
		for j := 1; j <= b.k; j++ {
			row[j] /= d
		}
	}
	return logDet + math.Log(product)
}

// solve overwrites the right-hand side with the solution.
func (b *banded) solve(x []float64) {
	b.forward(x)
	b.back(x)
}

// forward is the first half of solve. The sum of the squares of x over D is then
// the quadratic form of the right-hand side in the inverse.
func (b *banded) forward(x []float64) {
	if b.k == 2 {
		b.forward2(x)
		return
	}
	w := b.k + 1
	for i := 0; i < b.n; i++ {
		for j := 1; j <= b.k && i+j < b.n; j++ {
			x[i+j] -= b.a[i*w+j] * x[i]
		}
	}
}

// back is the second half of solve.
func (b *banded) back(x []float64) {
	if b.k == 2 {
		b.back2(x)
		return
	}
	w := b.k + 1
	for i := b.n - 1; i >= 0; i-- {
		v := x[i] / b.a[i*w]
		for j := 1; j <= b.k && i+j < b.n; j++ {
			v -= b.a[i*w+j] * x[i+j]
		}
		x[i] = v
	}
}

// eliminate is factor and forward at once, where that is quicker.
func (b *banded) eliminate(x []float64) float64 {
	if b.k == 2 {
		return b.factor2(x)
	}
	logDet := b.factor()
	b.forward(x)
	return logDet
}

// factor2 is factor for two upper diagonals, step by step the same, and takes x
// forward meanwhile, if there is one: most of a fit's time goes here.
func (b *banded) factor2(x []float64) float64 {
	logDet, product := 0.0, 1.0
	n := b.n
	a := b.a[:3*n]
	for i := 0; i < n; i++ {
		d := a[3*i]
		if !(d > 1e-300) {
			d = 1e-300
			a[3*i] = d
		}
		if product *= d; product > 1e100 || product < 1e-100 {
			logDet, product = logDet+math.Log(product), 1
		}
		one, two := a[3*i+1], a[3*i+2]
		f1, f2 := one/d, two/d
		if i+1 < n {
			a[3*i+3] -= f1 * one
			a[3*i+4] -= f1 * two
		}
		if i+2 < n {
			a[3*i+6] -= f2 * two // the diagonal two rows on: derived, of three numbers a row
		}
		a[3*i+1], a[3*i+2] = f1, f2
		if x != nil && i+1 < n {
			x[i+1] -= f1 * x[i]
			if i+2 < n {
				x[i+2] -= f2 * x[i]
			}
		}
	}
	return logDet + math.Log(product)
}

// forward2 is forward for two upper diagonals.
func (b *banded) forward2(x []float64) {
	n := b.n
	a := b.a[:3*n]
	x = x[:n]
	for i := 0; i+1 < n; i++ {
		v := x[i]
		x[i+1] -= a[3*i+1] * v
		if i+2 < n {
			x[i+2] -= a[3*i+2] * v
		}
	}
}

// back2 is back for two upper diagonals.
func (b *banded) back2(x []float64) {
	n := b.n
	a := b.a[:3*n]
	x = x[:n]
	var one, two float64 // the solution after i, and after that
	for i := n - 1; i >= 0; i-- {
		v := x[i] / a[3*i]
		if i+1 < n {
			v -= a[3*i+1] * one
		}
		if i+2 < n {
			v -= a[3*i+2] * two
		}
		one, two = v, one
		x[i] = v
	}
}

// inverseBand returns the elements of the inverse inside the band, laid out as
// the matrix (Takahashi, Fagan and Chin 1973, 8th PICA Conference). It takes the
// place of z, or allocates where that is too short.
func (b *banded) inverseBand(z []float64) []float64 {
	w := b.k + 1
	z = slices.Grow(z[:0], b.n*w)[:b.n*w]
	get := func(i, j int) float64 {
		if j < i {
			i, j = j, i
		}
		return z[i*w+j-i]
	}
	for i := b.n - 1; i >= 0; i-- {
		for j := min(b.k, b.n-1-i); j >= 0; j-- {
			v := 0.0
			if j == 0 {
				v = 1 / b.a[i*w]
			}
			for l := 1; l <= b.k && i+l < b.n; l++ {
				v -= b.a[i*w+l] * get(i+l, i+j)
			}
			z[i*w+j] = v
		}
	}
	return z
}
