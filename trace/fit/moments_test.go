package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// Pearson's own ten points (1901, Phil. Mag. 2:559, from memory): the line of
// closest fit is y = 5.784 - 0.5456 x.
func TestLineAgainstPearson(t *testing.T) {
	x := []float64{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	y := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	var m moments
	for i := range x {
		m.add(geo.XY{X: x[i], Y: y[i]}, 1)
	}
	l, rss := m.line()
	slope := l.dir.Y / l.dir.X
	close2(t, "slope", slope, -0.54556, 2e-4)
	close2(t, "intercept", l.at.Y-slope*l.at.X, 5.7840, 1e-3)
	close2(t, "cost", m.lineCost(), rss, 1e-12)
}

// Points on a circle give it back; the misfit of a point off it is its distance.
func TestArc(t *testing.T) {
	var m moments
	for a := 0.2; a < 1.8; a += 0.2 {
		m.add(geo.XY{X: 3 + 7*math.Cos(a), Y: -2 + 7*math.Sin(a)}, 4)
	}
	c, cost, ok := m.arc()
	if !ok {
		t.Fatal("no arc")
	}
	close2(t, "radius", c.radius, 7, 1e-6)
	close2(t, "centre", c.center.Dist(geo.XY{X: 3, Y: -2}), 0, 1e-6)
	close2(t, "cost", cost, 0, 1e-6)
}

// The running misfit is that of a least-squares line's prediction.
func TestLineMisfit(t *testing.T) {
	var m moments
	for x := 0.0; x < 10; x++ {
		m.add(geo.XY{X: x, Y: 2 * x}, 100)
	}
	// 0.3 off square to the line at the middle: variance 1/100 + 1/1000.
	off := geo.XY{X: 4.5, Y: 9}.Add(geo.XY{X: -2, Y: 1}.Scale(0.3 / math.Sqrt(5)))
	close2(t, "misfit", m.lineMisfit(off, 100), 0.09/(0.01+0.001), 1e-6)
}

// The band factorisation, its determinant and the band of the inverse, against
// elimination on the full matrix.
func TestBanded(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const n, k = 9, 2
	b := newBanded(n)
	full := make([][]float64, n)
	for i := range full {
		full[i] = make([]float64, n)
	}
	for i := 0; i < n; i++ {
		for j := 0; j <= k && i+j < n; j++ {
			v := r.NormFloat64()
			if j == 0 {
				v = 8 + r.Float64()
			}
			b.a[i*(k+1)+j], full[i][i+j], full[i+j][i] = v, v, v
		}
	}
	rhs := make([]float64, n)
	for i := range rhs {
		rhs[i] = r.NormFloat64()
	}
	x := append([]float64(nil), rhs...)
	inv, logDet := invert(full)
	close2(t, "ln det", b.factor(), logDet, 1e-9)
	b.solve(x)
	z := b.inverseBand(nil)
	for i := 0; i < n; i++ {
		want := 0.0
		for j := 0; j < n; j++ {
			want += inv[i][j] * rhs[j]
		}
		close2(t, "solution", x[i], want, 1e-9)
		for j := 0; j <= k && i+j < n; j++ {
			close2(t, "inverse", z[i*(k+1)+j], inv[i][i+j], 1e-9)
		}
	}
}

// invert is Gauss and Jordan's elimination, for symmetric positive matrices.
func invert(a [][]float64) ([][]float64, float64) {
	n, logDet := len(a), 0.0
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, 2*n)
		copy(m[i], a[i])
		m[i][n+i] = 1
	}
	for k := range m {
		d := m[k][k]
		logDet += math.Log(d)
		for j := range m[k] {
			m[k][j] /= d
		}
		for i := range m {
			if f := m[i][k]; i != k && f != 0 {
				for j := range m[i] {
					m[i][j] -= f * m[k][j]
				}
			}
		}
	}
	for i := range m {
		m[i] = m[i][n:]
	}
	return m, logDet
}

// What surely is within a limit is, and most that is far within it surely is.
func TestSurelyWithin(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	far, sure := 0, 0
	for range 2000 {
		var m moments
		radius := math.Exp(1 + 6*r.Float64())
		place := func(x float64) geo.XY {
			return geo.XY{X: x + 0.02*r.NormFloat64(), Y: x*x/2/radius + 0.02*r.NormFloat64()}
		}
		for range leastBent + r.IntN(20) {
			m.add(place(40*r.Float64()), 2000*r.Float64())
		}
		var f lineFit
		f.fit(&m)
		c, _, circular := m.arc()
		p, wt, limit := place(60*r.Float64()), 2000*r.Float64(), 20*r.Float64()
		for _, q := range []struct {
			asked, within bool
			misfit        float64
		}{
			{true, f.surelyWithin(p, wt, limit), f.misfit(p, wt)},
			{circular && c.radius <= straightRadiusM, c.surelyWithin(p, wt, limit), c.misfit(p, wt)},
		} {
			if q.asked && q.within && q.misfit > limit {
				t.Fatalf("%v is surely within %v", q.misfit, limit)
			}
			if q.asked && q.misfit < limit/10 {
				if far++; q.within {
					sure++
				}
			}
		}
	}
	if far < 500 || sure < far/2 {
		t.Errorf("of %d far within the limit %d surely are", far, sure)
	}
}
