package fit

import (
	"math"
)

// curveFit holds the normal equations of a curve: a banded block for the
// wandering at n nodes, and p columns for the level and the regressors.
type curveFit struct {
	d       curveData
	first   float64
	hM      float64
	n, p    int
	mean    float64     // weighted, taken off the data
	data    []float64   // BᵀWB, as banded
	rhs     []float64   // BᵀWy
	cross   [][]float64 // BᵀWX, by column
	shown   [][]float64 // X, by column
	own     []float64   // XᵀWX with the priors, p by p
	right   []float64   // XᵀWy
	square  float64     // yᵀWy with the noise's prior
	free    float64
	b       *banded
	inverse []float64 // of b, inside the band
	g       []float64
	z       [][]float64
	s       []float64 // Cholesky factor of the columns' own matrix
	size    []float64
	noise   float64
}

func newCurveFit(d curveData, c *curve, n int) *curveFit {
	f := &curveFit{d: d, first: c.first, hM: c.hM, n: n, p: 1 + len(d.regressors), b: newBanded(n)}
	f.data, f.rhs, f.g = make([]float64, 3*n), make([]float64, n), make([]float64, n)
	f.own, f.right, f.size = make([]float64, f.p*f.p), make([]float64, f.p), make([]float64, f.p)
	f.s = make([]float64, f.p*f.p)
	sum := 0.0
	for i := range d.n {
		_, y, w := d.point(i)
		f.mean, sum = f.mean+w*y, sum+w
	}
	f.mean /= sum
	f.free = float64(d.n) + priorDegrees - 1
	f.square = priorDegrees * d.priorVariance
	for i := range d.n {
		s, y, w := d.point(i)
		k, u := locate(s, f.first, f.hM, n)
		v := 1 - u
		y -= f.mean
		f.data[k*3] += w * v * v
		f.data[k*3+1] += w * u * v
		f.data[(k+1)*3] += w * u * u
		f.rhs[k] += w * v * y
		f.rhs[k+1] += w * u * y
		f.square += w * y * y
	}
	for j := range f.p {
		f.cross, f.z, f.shown = append(f.cross, make([]float64, n)), append(f.z, make([]float64, n)), append(f.shown, make([]float64, d.n))
		f.fillColumn(j)
	}
	return f
}

// fillColumn works out what a column makes of the data and of the columns before it.
func (f *curveFit) fillColumn(j int) {
	cross, own := f.cross[j], f.own[j*f.p:(j+1)*f.p]
	clear(cross)
	clear(own)
	if j > 0 {
		own[j] = f.d.priorVariance / sq(f.d.regressors[j-1].sd)
	}
	f.right[j] = 0
	for i := range f.d.n {
		s, y, w := f.d.point(i)
		k, u := locate(s, f.first, f.hM, f.n)
		x := 1.0
		if j > 0 {
			x = f.d.regressors[j-1].shown(s)
		}
		f.shown[j][i] = x
		cross[k] += w * (1 - u) * x
		cross[k+1] += w * u * x
		f.right[j] += w * x * (y - f.mean)
		for m := 0; m <= j; m++ {
			own[m] += w * x * f.shown[m][i]
		}
	}
}

// atNode is a column at a node: 1 for the level, nothing for what the curve is
// without.
func (f *curveFit) atNode(j int, stationM float64) float64 {
	switch {
	case j == 0:
		return 1
	case f.d.regressors[j-1].drawn != nil:
		return f.d.regressors[j-1].drawn(stationM)
	}
	return 0
}

// penalize adds the precision of the wandering, times the noise's prior
// variance, and returns ln of its determinant. Both nodes at the start have the
// stationary spread; every further one follows from the two before it.
func (f *curveFit) penalize(w wandering) float64 {
	phi := math.Exp(-f.hM / w.reachM)
	one, two := -math.Expm1(-2*f.hM/w.reachM), 1+phi*phi // 1-φ² and 1+φ²
	step := sq(w.sd) * one * one * one / two             // variance of each innovation
	rho, left := 2*phi/two, sq(one/two)                  // correlation of neighbours, and 1-ρ²
	a, scale := f.b.a, f.d.priorVariance/(sq(w.sd)*left)
	a[0] += scale
	a[1] -= scale * rho
	a[3] += scale
	lambda := f.d.priorVariance / step
	coef := [3]float64{phi * phi, -2 * phi, 1}
	var add [3][3]float64
	for i := range coef {
		for j := i; j < 3; j++ {
			add[i][j-i] = lambda * coef[i] * coef[j]
		}
	}
	for k := 0; k+2 < f.n; k++ {
		for i := range add {
			row := a[(k+i)*3 : (k+i)*3+3]
			row[0] += add[i][0]
			row[1] += add[i][1]
			row[2] += add[i][2]
		}
	}
	return float64(f.n-2)*math.Log(lambda) + 2*math.Log(scale) + math.Log(left)
}

// solve fits with one way of wandering and returns -2 ln of its restricted
// likelihood to within a constant.
func (f *curveFit) solve(w wandering) float64 {
	copy(f.b.a, f.data)
	lnPrior := f.penalize(w)
	copy(f.g, f.rhs)
	logDet := f.b.eliminate(f.g)
	f.b.back(f.g)
	for j, z := range f.z {
		copy(z, f.cross[j])
		f.b.solve(z)
		f.project(j)
	}
	logDet += choleskyInPlace(f.s, f.p)
	choleskySolve(f.s, f.p, f.size)
	left := f.square
	for j, b := range f.size {
		left -= f.right[j] * b
		for k, z := range f.z[j] {
			f.g[k] -= z * b
		}
	}
	for k, g := range f.g {
		left -= f.rhs[k] * g
	}
	f.noise = math.Max(left, 1e-12) / math.Max(f.free, priorDegrees)
	minusTwoLn := f.free*math.Log(f.noise) + logDet - lnPrior
	for _, e := range f.d.regressors {
		minusTwoLn -= math.Log(f.d.priorVariance / sq(e.sd))
	}
	return minusTwoLn
}

// project takes of a column what the wandering explains.
func (f *curveFit) project(j int) {
	left := f.right[j]
	for k, c := range f.cross[j] {
		left -= c * f.g[k]
	}
	f.size[j] = left
	for m := 0; m <= j; m++ {
		v := f.own[j*f.p+m]
		for k, c := range f.cross[j] {
			v -= c * f.z[m][k]
		}
		f.s[j*f.p+m] = v
	}
}

// addTo adds the solution to a curve with a share; the variance holds the square
// of the value until the average is complete.
func (f *curveFit) addTo(c *curve, share float64) {
	f.inverse = f.b.inverseBand(f.inverse)
	c.noise += share * f.noise
	t := make([]float64, f.p)
	for k, g := range f.g {
		v := g
		for j, b := range f.size {
			x := f.atNode(j, c.first+float64(k)*c.hM)
			v += x * b
			t[j] = x - f.z[j][k]
		}
		choleskyForward(f.s, f.p, t)
		post := f.inverse[k*3]
		for _, x := range t {
			post += x * x
		}
		c.value[k] += share * v
		c.variance[k] += share * (f.noise*post + v*v)
	}
	for j, b := range f.size {
		c.size[j] += share * b
	}
}

// choleskyInPlace factors the lower half of a small matrix and returns ln of its
// determinant. Gonum's (lapack64.Potrf) takes the same time, but adds in another order, by
// which two of 405 simulated maps differ by a point of an outline, millimetres from the next,
// and gives up where a pivot rounds to nothing, which is held here.
func choleskyInPlace(a []float64, n int) float64 {
	logDet := 0.0
	for j := range n {
		for m := 0; m <= j; m++ {
			v := a[j*n+m]
			for l := range m {
				v -= a[j*n+l] * a[m*n+l]
			}
			if m < j {
				a[j*n+m] = v / a[m*n+m]
				continue
			}
			v = math.Max(v, 1e-12*math.Max(a[j*n+j], 1e-12))
			a[j*n+j] = math.Sqrt(v)
			logDet += math.Log(v)
		}
	}
	return logDet
}

// choleskyForward solves L x = b in place.
func choleskyForward(l []float64, n int, x []float64) {
	for j := range n {
		for m := range j {
			x[j] -= l[j*n+m] * x[m]
		}
		x[j] /= l[j*n+j]
	}
}

// choleskySolve solves L Lᵀ x = b in place.
func choleskySolve(l []float64, n int, x []float64) {
	choleskyForward(l, n, x)
	for j := n - 1; j >= 0; j-- {
		for m := j + 1; m < n; m++ {
			x[j] -= l[m*n+j] * x[m]
		}
		x[j] /= l[j*n+j]
	}
}
