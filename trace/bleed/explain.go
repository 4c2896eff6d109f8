package bleed

import (
	"math"
	"slices"
)

// Other explanations compete with coupling, each at the price of its prior:
// depth steps and humps, current steps (tees), and the pull of a bend or a tee
// on the null. They are added greedily while the marginal likelihood grows
// (as change points in Killick et al., 2012, JASA 107:1590). Sizes and prices
// are judgement.
const (
	depthStepSD   = 0.25
	currentStepSD = 0.4
	maxReasons    = 3
)

func reasonCost(n int) float64 { return math.Log(2*float64(n)) + 0.7 }

// explainDepthSignal adds steps and humps to a depth and signal block and
// returns the readings before which the current steps.
func explainDepthSignal(b *block, col *columns, lo, hi int) (tees []int) {
	n := hi - lo
	cost := reasonCost(n)
	for range maxReasons {
		depthM, depthB := b.combined(n, 1, -1)
		curM, curB := b.combined(n, 0, 1)
		gain, at := bestStep(depthM, depthB, n, depthStepSD)
		kind := 0
		if g, j := bestStep(curM, curB, n, currentStepSD); g > gain {
			gain, at, kind = g, j, 1
		}
		var shape []float64
		for _, w := range []float64{10, 18} {
			if g, f := bestHump(depthM, depthB, col, lo, n, w); g > gain {
				gain, shape, kind = g, f, 2
			}
		}
		if gain <= cost {
			return tees
		}
		v := make([]float64, 2*n)
		switch kind {
		case 0:
			for k := at; k < n; k++ {
				v[k], v[n+k] = 1, -1
			}
			b.allow(v, depthStepSD*depthStepSD, cost)
		case 1:
			for k := at; k < n; k++ {
				v[n+k] = 1
			}
			b.allow(v, currentStepSD*currentStepSD, cost)
			tees = append(tees, lo+at)
		default:
			for k, f := range shape {
				v[k], v[n+k] = f, -f
			}
			b.allow(v, depthStepSD*depthStepSD, cost)
		}
	}
	return tees
}

// combined collapses the two channels of a block with the weights cD and cS.
func (b *block) combined(n int, cD, cS float64) (m, v []float64) {
	m, v = make([]float64, n*n), make([]float64, n)
	for i := range n {
		d, s := b.prec[i*b.n:], b.prec[(n+i)*b.n:]
		for j := range n {
			m[i*n+j] = cD*cD*d[j] + cD*cS*(d[n+j]+s[j]) + cS*cS*s[n+j]
		}
		v[i] = cD*b.py[i] + cS*b.py[n+i]
	}
	return m, v
}

// gainOf is the log evidence that an amplitude of the given sd brings, from
// its precision a and its score s.
func gainOf(a, s, sd float64) float64 {
	v := sd * sd
	return 0.5*v*s*s/(1+v*a) - 0.5*math.Log1p(v*a)
}

func bestStep(m, v []float64, n int, sd float64) (gain float64, at int) {
	var a, s float64
	gain = math.Inf(-1)
	for j := n - 1; j > 0; j-- {
		row := m[j*n : (j+1)*n]
		var right float64
		for _, x := range row[j+1:] {
			right += x
		}
		a += row[j] + 2*right
		s += v[j]
		if g := gainOf(a, s, sd); g > gain {
			gain, at = g, j
		}
	}
	return gain, at
}

func bestHump(m, v []float64, col *columns, lo, n int, widthM float64) (gain float64, shape []float64) {
	gain = math.Inf(-1)
	f := make([]float64, n)
	for j := range n {
		from, to := n, 0
		for k := range n {
			t := (col.rd[lo+k].StationM - col.rd[lo+j].StationM) / (widthM / 2)
			f[k] = 0
			if math.Abs(t) < 3 {
				f[k] = math.Exp(-0.5 * t * t)
				from, to = min(from, k), k+1
			}
		}
		if g := gainOf(quad(m, f, n, from, to), dot(v, f, from, to), depthStepSD); g > gain {
			gain, shape = g, slices.Clone(f)
		}
	}
	return gain, shape
}

func quad(m, f []float64, n, from, to int) float64 {
	var a float64
	for i := from; i < to; i++ {
		a += f[i] * dot(m[i*n:(i+1)*n], f, from, to)
	}
	return a
}

func dot(v, f []float64, from, to int) float64 {
	var s float64
	for k := from; k < to; k++ {
		s += v[k] * f[k]
	}
	return s
}

// bendPull is how far, in depths, a square bend pulls the null outward at the
// corner, fading over bendReach depths (from the field of a bent wire).
const (
	bendPull  = 0.32
	bendReach = 4.2
)

// explainNull adds the pull of bends and tees to a null block. One at a known
// tee costs little; one anywhere costs as much as any other explanation.
func explainNull(b *block, col *columns, lo, hi int, tees []int) {
	n := hi - lo
	f := make([]float64, n)
	for range maxReasons {
		gain, price, shape := 0.0, 0.0, []float64(nil)
		for j := range n {
			cost := reasonCost(n)
			if nearAny(tees, lo+j) {
				cost = 1.4
			}
			for k := range n {
				t := math.Abs(col.rd[lo+k].StationM-col.rd[lo+j].StationM) / col.depth[lo+j]
				f[k] = 0
				if t < 5*bendReach {
					f[k] = bendPull * col.depth[lo+j] * math.Exp(-t/bendReach)
				}
			}
			g := gainOf(quad(b.prec, f, n, 0, n), dot(b.py, f, 0, n), 1) - cost
			if g > gain {
				gain, price, shape = g, cost, slices.Clone(f)
			}
		}
		if shape == nil {
			return
		}
		b.allow(shape, 1, price)
	}
}

func nearAny(places []int, k int) bool {
	return slices.ContainsFunc(places, func(p int) bool { return k >= p-2 && k <= p+1 })
}
