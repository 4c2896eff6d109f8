package fit

import (
	"context"
	"math"

	"loamline.example/geo"
)

// Costs of the search for blunders, in units of -2 ln(likelihood): leaving a
// reading out costs skipCost; a kept triple never more than tripleCap, so that
// a real elbow stays cheaper than the readings it would take to hide it. SkipCost,
// tripleCap and studentNu are those of a prototype study of the method, which left out
// four in a row at most and knew no further costs; the rest is judgement.
const (
	skipCost  = 8.5
	moreCost  = 5.0 // of each further reading in a burst
	tripleCap = 1.3 * skipCost
	leapCost  = 3.0 // of each e-fold more
	jumpCost  = 5.0 // of a step of jumpTo usual ones or more
	maxSkip   = 6   // readings left out in a row
	studentNu = 3.0
)

// Steps, in usual ones. Judgement: strides of a walk seldom differ by a factor of two, and
// who leaves out a place steps two.
const (
	jumpFrom, jumpTo = 1.5, 3.0 // between these a step begins to cost as a jump
	longestUsual     = 2.5
)

// The radius of a bend that is not held against a reading, at first and on a
// second try. Judgement; the same study took 25 m.
const gentleTurnM, tightTurnM = 15.0, 5.0

// Of the readings' distances from the chords beside them the lower quartile tells the
// scatter, which is quartileOfSigma of one sigma. Judgement: of a normal error it is 0.319,
// a prototype study of the method took 0.45; what stands here is between the two.
const (
	lowerQuartile   = 0.25
	quartileOfSigma = 0.4
)

// markBlunders sets aside readings where the walk leaves its path and comes
// back: the cheapest chain of kept readings by dynamic programming over pairs
// (Viterbi 1967, IEEE Trans. Inf. Theory 13:260), in O(n). Exposed places are no
// steps of the walk, and none is set aside.
func (w *walk) markBlunders(ctx context.Context) error {
	chain := *w
	var exposed []observation
	if chain.obs, exposed = w.apartFromExposed(); len(exposed) == 0 {
		return w.leaveOut(ctx)
	}
	if err := chain.leaveOut(ctx); err != nil {
		return err
	}
	k := 0
	for i := range w.obs {
		if o := &w.obs[i]; !o.exposed {
			o.fate, o.suspect = chain.obs[k].fate, chain.obs[k].suspect
			k++
		}
	}
	return nil
}

// leaveOut is markBlunders for a walk without exposed places.
func (w *walk) leaveOut(ctx context.Context) error {
	n := len(w.obs)
	if n < 4 {
		return nil
	}
	scale := w.meanScatter()
	const width = maxSkip + 1
	back := make([]int8, n*width) // per (kept i, previous i-1-a): how far the one before that
	var cost [width + 1][width]float64
	final, fi, fa := math.Inf(1), 0, 0
	for i := 0; i < n; i++ {
		if i&0xffff == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		row := &cost[i%(width+1)]
		for a := range row {
			row[a] = math.Inf(1)
			j := i - 1 - a
			if j < 0 {
				continue
			}
			c, b := w.arrive(&cost[j%(width+1)], i, j, scale)
			row[a] = c + skipped(j+1, i)
			back[i*width+a] = b
		}
		if n-1-i <= maxSkip {
			rest := skipped(i+1, n)
			for a, c := range row {
				if c+rest < final {
					final, fi, fa = c+rest, i, a
				}
			}
		}
	}
	for i := range w.obs {
		w.obs[i].fate = Blunder
	}
	for i, a := fi, fa; ; {
		w.obs[i].fate = Used
		j := i - 1 - a
		w.obs[j].fate = Used
		b := back[i*width+a]
		if b < 0 {
			break
		}
		i, a = j, int(b)
	}
	for i := range w.obs {
		w.obs[i].suspect = w.obs[i].fate == Blunder
	}
	return nil
}

// arrive returns the cheapest cost of keeping i after j, and how many readings
// lie between j and the one kept before it (-1 for none).
func (w *walk) arrive(row *[maxSkip + 1]float64, i, j int, scale float64) (float64, int8) {
	best, from := math.Inf(1), int8(-1)
	if j <= maxSkip {
		best = skipped(0, j)
	}
	for b, c := range row {
		h := j - 1 - b
		if h < 0 || c >= best {
			continue
		}
		if t := c + w.tripleCost(h, j, i, scale); t < best {
			best, from = t, int8(b)
		}
	}
	return best, from
}

// skipped is the cost of leaving out the readings in [from, to).
func skipped(from, to int) float64 {
	if from >= to {
		return 0
	}
	return skipCost + moreCost*float64(to-from-1)
}

// tripleCost is -2 ln of a Student likelihood of how far three readings are
// from one line, held to tripleCap.
func (w *walk) tripleCost(h, j, i int, scale float64) float64 {
	a, b, c := &w.obs[h], &w.obs[j], &w.obs[i]
	d, spread, legs := offChord(a.p, b.p, c.p)
	s := max(a.sigmaM, max(b.sigmaM, c.sigmaM))
	legs = min(legs, sq(longestUsual*w.stepM))
	s2 := scale*scale*(s*s+w.floorM*w.floorM)*spread + legs*legs/(4*w.turnM*w.turnM)
	if s2 == 0 {
		s2 = 1e-6
	}
	cost := min((studentNu+1)*math.Log1p(d*d/s2/studentNu), tripleCap)
	long := c.p.Dist(b.p) / (float64(i-j) * w.stepM)
	if long <= jumpFrom {
		return cost
	}
	return cost + jumpCost*clamp((long-jumpFrom)/(jumpTo-jumpFrom), 0, 1) + leapCost*math.Log(max(1, long/jumpTo))
}

// offChord returns how far b lies off the chord from a to c, the variance
// factor of that distance, and the product of the legs. Where the walker turned
// round at b it is how far the shorter leg is off the longer one instead.
func offChord(a, b, c geo.XY) (distM, spread, legs float64) {
	ab, bc, ac := b.Sub(a), c.Sub(b), c.Sub(a)
	l1, l2 := ab.Norm(), bc.Norm()
	legs = l1 * l2
	u := 0.0
	if n := ac.Dot(ac); n > 0 {
		u = ab.Dot(ac) / n
		if u >= 0 && u <= 1 {
			return math.Abs(ac.Cross(ab)) / math.Sqrt(n), 1 + u*u + (1-u)*(1-u), legs
		}
	}
	long, short := l1, l2
	if l2 > l1 {
		long, short = l2, l1
	}
	if long == 0 {
		return 0, 2, 0
	}
	u = short / long
	return math.Abs(ab.Cross(bc)) / long, 1 + u*u + (1-u)*(1-u), 0
}

// meanScatter is the share of the prior noise, pinpointing included, that neighbouring readings show
// against each other: the lower quartile of how far the middle of three is off
// the chord of the others, which 20 % of blunders can't move, or of how much
// that changes from one three to the next where the line bends. Its bounds are judgement.
func (w *walk) meanScatter() float64 { return clamp(w.rawScatter(), 0.25, 3) }

func (w *walk) rawScatter() float64 {
	if w.scatter > 0 {
		return w.scatter
	}
	obs, _ := w.apartFromExposed() // a hole is measured to the line, and scatters about nothing
	n := max(0, len(obs)-2)
	z, change := make([]float64, 0, n), make([]float64, 0, n)
	last := math.NaN()
	for i := 1; i+1 < len(obs); i++ {
		a, b, c := obs[i-1].p, obs[i].p, obs[i+1].p
		d, spread, _ := offChord(a, b, c)
		unit := math.Sqrt(spread) * math.Hypot(obs[i].sigmaM, w.floorM)
		z = append(z, d/unit)
		if side := c.Sub(a).Cross(b.Sub(a)); side < 0 {
			d = -d
		}
		if !math.IsNaN(last) {
			// Evenly spaced, d has 1.5 variances of a reading (1/4 + 1 + 1/4) and its change
			// 5 (1/4 + 9/4 + 9/4 + 1/4). Derived.
			change = append(change, math.Abs(d-last)/unit/math.Sqrt(5/1.5))
		}
		last = d
	}
	if len(z) == 0 {
		return 1
	}
	v := quantile(z, lowerQuartile)
	if len(change) > 3 {
		v = min(v, quantile(change, lowerQuartile))
	}
	return v / quartileOfSigma
}
