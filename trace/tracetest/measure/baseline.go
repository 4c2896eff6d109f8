package measure

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"loamline/geo"
	"loamline/trace/tracetest"
)

// The baselines are what a GIS analyst scripts: they take the rows in order of
// time, or of the file where it has no times, and smooth easting, northing and
// depth each along the distance walked.

// track is a walk as columns: distance walked, east, north, depth.
type track struct{ t, x, y, d []float64 }

// walked lines the rows up. Raised readings are left out; whoever scripts this
// knows of them.
func walked(tr tracetest.Trace, l tracetest.Layout) track {
	rds := make([]tracetest.Reading, 0, len(tr.Readings))
	for _, r := range tr.Readings {
		if math.IsNaN(r.RaiseM) {
			rds = append(rds, r)
		}
	}
	if l.Has[tracetest.ColTime] {
		sort.SliceStable(rds, func(a, b int) bool { return rds[a].TimeS < rds[b].TimeS })
	}
	var k track
	for i, r := range rds {
		t := 0.0
		if i > 0 {
			t = k.t[i-1] + math.Max(1e-3, r.Pos.Dist(rds[i-1].Pos))
		}
		k.t, k.x, k.y, k.d = append(k.t, t), append(k.x, r.Pos.X), append(k.y, r.Pos.Y), append(k.d, r.DepthM)
	}
	k.d = bridged(k.t, k.d)
	return k
}

// bridged fills missing values in linearly.
func bridged(t, v []float64) []float64 {
	out := append([]float64(nil), v...)
	last := -1
	for i, x := range v {
		if math.IsNaN(x) {
			continue
		}
		for j := last + 1; j < i; j++ {
			out[j] = x
			if last >= 0 {
				out[j] = v[last] + (x-v[last])*(t[j]-t[last])/(t[i]-t[last])
			}
		}
		last = i
	}
	for j := last + 1; j < len(v) && last >= 0; j++ {
		out[j] = v[last]
	}
	return out
}

func (k track) curve(smooth func(t, v []float64) []float64) curve {
	x, y, d := smooth(k.t, k.x), smooth(k.t, k.y), smooth(k.t, k.d)
	ps := make([]point, len(x))
	for i := range ps {
		ps[i] = point{geo.XY{X: x[i], Y: y[i]}, d[i], math.NaN(), math.NaN()}
	}
	if len(ps) < 2 {
		return nil
	}
	return curve{ps}
}

func dots(_, v []float64) []float64 { return v }

// movingAverage is the mean of five, fewer at the ends.
func movingAverage(_, v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		a, b := max(0, i-2), min(len(v), i+3)
		for _, x := range v[a:b] {
			out[i] += x / float64(b-a)
		}
	}
	return out
}

// lowess is W. S. Cleveland (1979), Robust locally weighted regression, JASA
// 74:829: local lines over the nearest quarter of the points (no fewer than
// seven), tricube weights, three robust rounds.
func lowess(t, v []float64) []float64 {
	n := len(t)
	k := min(n, max(7, n/4))
	robust := make([]float64, n)
	for i := range robust {
		robust[i] = 1
	}
	out := make([]float64, n)
	for range 4 {
		res := make([]float64, n)
		for i := range t {
			out[i] = localLine(t, v, robust, i, k)
			res[i] = math.Abs(v[i] - out[i])
		}
		s := 6 * quantile(res, 0.5)
		for i, e := range res {
			u := 0.0
			if s > 0 {
				u = e / s
			}
			robust[i] = math.Max(0, 1-u*u) * math.Max(0, 1-u*u)
		}
	}
	return out
}

func localLine(t, v, robust []float64, i, k int) float64 {
	a, b := i, i+1
	for b-a < k {
		if a > 0 && (b == len(t) || t[i]-t[a-1] <= t[b]-t[i]) {
			a--
		} else {
			b++
		}
	}
	h := math.Max(t[i]-t[a], t[b-1]-t[i]) * 1.0001
	var s0, s1, s2, r0, r1 float64
	for j := a; j < b; j++ {
		u := (t[j] - t[i]) / h
		c := 1 - math.Abs(u*u*u)
		w := c * c * c * robust[j]
		s0, s1, s2 = s0+w, s1+w*u, s2+w*u*u
		r0, r1 = r0+w*v[j], r1+w*u*v[j]
	}
	if det := s0*s2 - s1*s1; det > 1e-9*s0*s2 {
		return (r0*s2 - r1*s1) / det
	}
	if s0 > 0 {
		return r0 / s0
	}
	return v[i]
}

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
