package fit

import (
	"math"
	"slices"
)

// banded is a symmetric positive definite matrix with two diagonals beside its own, stored
// by rows of its upper half: a[3*i+j] is the element (i, i+j), and its factor L·D·Lᵀ in
// the same place. Gonum's (lapack64.Pbtrf and Pbtrs) takes six times as long for 200 nodes,
// as it calls a routine for every two numbers, and most of a fit's time goes here.
type banded struct {
	n int
	a []float64
}

func newBanded(n int) *banded { return &banded{n, make([]float64, 3*n)} }

// factor replaces the matrix by D on the diagonal and the unit upper factor
// beside it, and returns the logarithm of the determinant. A pivot that rounds
// to nothing is held at a tiny share of its diagonal.
func (b *banded) factor() float64 { return b.eliminate(nil) }

// solve overwrites the right-hand side with the solution.
func (b *banded) solve(x []float64) {
	b.forward(x)
	b.back(x)
}

// eliminate is factor, and takes x forward meanwhile, if there is one. The sum of the squares
// of x over D is then the quadratic form of the right-hand side in the inverse.
func (b *banded) eliminate(x []float64) float64 {
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

// forward is the first half of solve.
func (b *banded) forward(x []float64) {
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

// back is the second half of solve.
func (b *banded) back(x []float64) {
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
	const w = 3
	z = slices.Grow(z[:0], b.n*w)[:b.n*w]
	get := func(i, j int) float64 {
		if j < i {
			i, j = j, i
		}
		return z[i*w+j-i]
	}
	for i := b.n - 1; i >= 0; i-- {
		for j := min(2, b.n-1-i); j >= 0; j-- {
			v := 0.0
			if j == 0 {
				v = 1 / b.a[i*w]
			}
			for l := 1; l <= 2 && i+l < b.n; l++ {
				v -= b.a[i*w+l] * get(i+l, i+j)
			}
			z[i*w+j] = v
		}
	}
	return z
}
