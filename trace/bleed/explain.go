package bleed

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// Other explanations compete with coupling, each at the price of its prior:
// depth steps and humps, current steps (tees), and the pull of a bend or a tee
// on the null. They are added greedily while the marginal likelihood grows
// (as change points in Killick et al., 2012, JASA 107:1590). Sizes and prices
// are judgement.
const (
	depthStepSD   = 0.25
	currentStepSD = 0.4
	maxReasons    = 6
	depthStepMore = 1 // lines seldom step
	diveSD        = 1 // of a line that dives under something: from 0.6 m to 2 m is 1.2
	diveMore      = 2 // and that is rarer
	// regainMore is the price of current that a line gives away and has again, or has
	// for a while and loses: what flows off at a tee does not come back.
	regainMore = 4
	// knownTeeShare is what a branch that was traced is taken to carry off, in shape; how
	// much it is, is open.
	knownTeeShare = 0.3
)

// rampWidthsM are the lengths over which a line goes deeper or shallower: a grid, judgement.
var rampWidthsM = []float64{2, 4, 8, 14, 22}

// humpWidthsM are the widths of rises and dips that are tried. Judgement, as rampWidthsM.
var humpWidthsM = []float64{10, 18}

// reasonNats is what an explanation, and an end of a stretch, costs beside the choice of
// its place among the readings. Judgement: dearer ones leave the line's own doing to be
// taken for a neighbour's, cheaper ones explain a neighbour away.
const reasonNats = 0.7

func reasonCost(n int) float64 { return math.Log(2*float64(n)) + reasonNats }

// explainDepthSignal adds steps and humps to a depth and signal gaussian and
// returns where the current steps.
func explainDepthSignal(b *gaussian, col *columns, lo, hi int) (tees []tee) {
	n := hi - lo
	cost := reasonCost(n)
	way := 0.0 // in which the current steps
	for _, at := range col.teesM {
		if at > col.rd[lo].StationM && at < col.rd[hi-1].StationM {
			f := col.teeShape(lo, n, at, knownTeeShare)
			b.allow(f.dense(b.n), f.sd*f.sd, 0)
			tees = append(tees, tee{at})
		}
	}
	for range maxReasons {
		gain, best, bestWay := cost, shape{}, 0.0
		b.eachCandidate(col, lo, n, func(f shape) {
			a, s := b.quad(f), b.score(f)
			if f.tee && s*way < 0 {
				f.more += regainMore
			}
			if g := gainOf(a, s, f.sd) - f.more; g > gain {
				gain, best, bestWay = g, f, s
			}
			if f.tee {
				return
			}
			f.sd, f.more = diveSD, f.more+diveMore
			if g := gainOf(a, s, f.sd) - f.more; g > gain {
				gain, best = g, f
			}
		})
		if best.empty() {
			return tees
		}
		b.allow(best.dense(b.n), best.sd*best.sd, cost+best.more)
		if best.tee {
			tees = append(tees, tee{best.stationM})
			way = bestWay
		}
	}
	return tees
}

// eachCandidate yields the explanations worth trying: sharp steps, which are quick
// to weigh at every place, say where the exact shapes are worth their time.
func (b *gaussian) eachCandidate(c *columns, lo, n int, yield func(shape)) {
	c.shapes.turnTo(c, lo, n)
	for _, j := range b.sharpest(n, 0, 1, currentStepSD) {
		for _, s := range c.between(lo, j) {
			for _, share := range teeShares {
				yield(c.shapes.at(shapeAt{stationM: s, share: share}, func() shape { return c.teeShape(lo, n, s, share) }))
			}
		}
	}
	for _, j := range b.sharpest(n, 1, -1, depthStepSD) {
		for _, s := range c.between(lo, j) {
			yield(c.shapes.at(shapeAt{stationM: s}, func() shape { return c.depthStepShape(lo, n, s) }))
		}
		at := c.rd[lo+j].StationM
		for _, widthM := range rampWidthsM {
			yield(c.shapes.at(shapeAt{stationM: at, widthM: widthM}, func() shape { return c.rampShape(lo, n, at, widthM) }))
		}
	}
	for _, f := range c.shapes.everywhere {
		yield(f)
	}
}

// everywhere lists the explanations that are tried at every place of a window.
func (c *columns) everywhere(lo, n int) []shape {
	out := slices.Concat(c.openEndShapes(lo, n), c.elbowShapes(lo, n))
	for _, widthM := range humpWidthsM {
		for j := 0; j < n; j += 1 + n/mostPlaces {
			out = append(out, c.humpShape(lo, n, j, widthM))
		}
	}
	return out
}

// between returns places in the gap before reading j of a window.
func (c *columns) between(lo, j int) []float64 {
	a, b := c.rd[lo+j-1].StationM, c.rd[lo+j].StationM
	// A grid of quarters of the gap. Judgement.
	return []float64{0.75*a + 0.25*b, 0.5*a + 0.5*b, 0.25*a + 0.75*b}
}

// sharpest returns the few readings before which a sharp step, with weights wD
// and wS in the two channels, gains most.
func (b *gaussian) sharpest(n int, wD, wS, sd float64) []int {
	gains := make([]float64, n)
	order := make([]int, 0, n-1)
	var a, s float64
	for j := n - 1; j > 0; j-- {
		d, e := b.prec[j*b.n:(j+1)*b.n], b.prec[(n+j)*b.n:(n+j+1)*b.n]
		row := func(l int) float64 { return wD*wD*d[l] + wD*wS*(d[n+l]+e[l]) + wS*wS*e[n+l] }
		var right float64
		for l := j + 1; l < n; l++ {
			right += row(l)
		}
		a += row(j) + 2*right
		s += wD*b.py[j] + wS*b.py[n+j]
		gains[j] = gainOf(a, s, sd)
		order = append(order, j)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(gains[j], gains[i]) })
	return order[:min(4, len(order))]
}

// gainOf is the log evidence that an amplitude of the given sd brings, from
// its precision a and its score s.
func gainOf(a, s, sd float64) float64 {
	v := sd * sd
	return 0.5*v*s*s/(1+v*a) - 0.5*math.Log1p(v*a)
}

// quad is f'Mf of a symmetric matrix, for f that is 0 outside [from, to).
func quad(m, f []float64, n, from, to int) float64 {
	var a float64
	for i := from; i < to; i++ {
		row := m[i*n : (i+1)*n]
		a += f[i] * (2*dot(row, f, i, to) - row[i]*f[i])
	}
	return a
}

func dot(v, f []float64, from, to int) float64 {
	var s float64
	v, f = v[from:to], f[from:to]
	for k, x := range f {
		s += v[k] * x
	}
	return s
}

// explainNull adds the pull of tees, and of bends that the course does not
// show, to a null gaussian.
func explainNull(b *gaussian, col *columns, lo, hi int, tees []tee) {
	n := hi - lo
	for _, t := range tees {
		f := make([]float64, n)
		for k := range n {
			f[k] = receiver.TeeNullM(col.rd[lo+k].StationM-t.stationM, col.depth[lo+k])
		}
		b.allow(f, currentStepSD*currentStepSD, 0)
	}
	cost := reasonCost(n)
	f := make([]float64, n)
	for range maxReasons {
		gain, best := cost, []float64(nil)
		for j := 0; j < n; j += 1 + n/mostPlaces {
			from, to := j, j
			for k := range n {
				t := math.Abs(col.rd[lo+k].StationM-col.rd[lo+j].StationM) / col.depth[lo+j]
				f[k] = 0
				if t < receiver.CornerReach {
					f[k] = receiver.CornerNullM(t, col.depth[lo+j])
					from, to = min(from, k), max(to, k+1)
				}
			}
			if g := gainOf(quad(b.prec, f, n, from, to), dot(b.py, f, from, to), 1); g > gain {
				gain, best = g, slices.Clone(f)
			}
		}
		if best == nil {
			return
		}
		b.allow(best, 1, cost)
	}
}
