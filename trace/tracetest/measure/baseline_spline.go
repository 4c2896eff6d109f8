package measure

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// spline is the natural cubic smoothing spline with its weight chosen by
// generalised cross-validation (P. Craven and G. Wahba, 1979, Numer. Math.
// 31:377), in the basis of A. Demmler and C. Reinsch (1975, Numer. Math. 24:375).
func spline(t, v []float64) []float64 {
	n := len(t)
	if n < 4 {
		return v
	}
	var eig mat.EigenSym
	if !eig.Factorize(roughness(t), true) {
		return v
	}
	var u mat.Dense
	eig.VectorsTo(&u)
	vals := eig.Values(nil)
	var z mat.VecDense
	z.MulVec(u.T(), mat.NewVecDense(n, v))
	best, bestGCV := 0.0, math.Inf(1)
	for lg := -6.0; lg <= 8; lg += 0.25 {
		lambda, rss, df := math.Pow(10, lg), 0.0, 0.0
		for i, g := range vals {
			h := 1 / (1 + lambda*math.Max(0, g))
			rss += (1 - h) * (1 - h) * z.AtVec(i) * z.AtVec(i)
			df += h
		}
		if g := rss / ((float64(n) - df) * (float64(n) - df)); float64(n)-df > 0.5 && g < bestGCV {
			best, bestGCV = lambda, g
		}
	}
	for i, g := range vals {
		z.SetVec(i, z.AtVec(i)/(1+best*math.Max(0, g)))
	}
	var out mat.VecDense
	out.MulVec(&u, &z)
	return out.RawVector().Data
}

// roughness is Q R⁻¹ Qᵀ, the integral of the squared second derivative of the
// natural cubic interpolant (P. J. Green and B. W. Silverman, 1994,
// Nonparametric Regression and Generalized Linear Models, section 2.1).
func roughness(t []float64) *mat.SymDense {
	n := len(t)
	h := func(i int) float64 { return t[i+1] - t[i] }
	q, r := mat.NewDense(n, n-2, nil), mat.NewSymDense(n-2, nil)
	for j := range n - 2 {
		q.Set(j, j, 1/h(j))
		q.Set(j+1, j, -1/h(j)-1/h(j+1))
		q.Set(j+2, j, 1/h(j+1))
		r.SetSym(j, j, (h(j)+h(j+1))/3)
		if j+3 < n {
			r.SetSym(j, j+1, h(j+1)/6)
		}
	}
	var chol mat.Cholesky
	chol.Factorize(r)
	var rq, k mat.Dense
	chol.SolveTo(&rq, q.T())
	k.Mul(q, &rq)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, (k.At(i, j)+k.At(j, i))/2)
		}
	}
	return out
}
