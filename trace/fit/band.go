package fit

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// bander works out how sure the fitted line is across its direction: the
// variance of the fit, which is linear in the readings, under each noise model.
type bander struct {
	w     *walk
	sh    *shape
	noise noisePosterior
	taus  []float64
	// Of the run asked for last, the sample numbers in walking order.
	last  *run
	order []int32
	vars  []float64 // room for the variances under each noise model
	marks []float64 // chances of what was marked; nil where all of it stands over the line
	// alongSigmas is how many prior sigmas a place may be off along the line, 0 until that is asked.
	alongSigmas float64
}

// spread is a variance across the line, split by cause. White and tau are in
// units of the prior sigma.
type spread struct {
	white float64   // ΣA²σ²
	pin   float64   // ΣA²
	sway  float64   // m², of a receiver that was not held over the peak
	tau   []float64 // of the correlated part, per time constant
	whole float64   // of the part that all readings share
	slow  float64   // m², of what loose positions are stated to be off, as if all of it stayed
	fixed float64   // m², of exposed readings
	bias  float64   // m², what the smoothing may have flattened
}

func newBander(w *walk, sh *shape, noise noisePosterior) *bander {
	return &bander{w: w, sh: sh, noise: noise, taus: tauGrid, vars: make([]float64, len(noise.models))}
}

// walked returns the sample numbers of a run in walking order.
func (b *bander) walked(r *run) []int32 {
	if r == b.last {
		return b.order
	}
	b.last, b.order = r, b.order[:0]
	for i := range r.part {
		b.order = append(b.order, int32(i))
	}
	slices.SortFunc(b.order, func(i, k int32) int {
		if r.part[i].before(r.part[k]) {
			return -1
		}
		return 1
	})
	return b.order
}

// at returns the half-width of the 95 % band of the line at p on a run.
func (b *bander) at(id int, p geo.XY) float64 {
	r := &b.sh.runs[id]
	weights, bias := b.influence(r, p)
	sp := b.spreadOf(r, weights)
	sp.bias = bias
	causes := []spread{sp}
	if away, ok := b.away(r, p); ok {
		causes = append(causes, away)
	}
	return b.mixture(causes...)
}

// alongAt is how far along the line a reading's place may be off, 95 %. Its neighbours tell
// nothing of it: theirs are other places. All that it errs by goes by its prior error.
func (b *bander) alongAt(o *observation) float64 {
	if o.exposed {
		return 1.96 * o.sigmaM
	}
	if b.alongSigmas == 0 {
		sp := spread{white: 1, whole: 1, tau: make([]float64, len(b.taus))}
		for k := range sp.tau {
			sp.tau[k] = 1
		}
		b.alongSigmas = b.mixture(sp)
	}
	return b.alongSigmas * o.sigmaM
}

// influence returns the weight of each sample in the offset of the line at p,
// and the variance that the smoothing may hide.
func (b *bander) influence(r *run, p geo.XY) (wt []float64, bias float64) {
	part := r.part
	if r.straight || r.arc {
		return r.leverage(p), 0
	}
	k, u := nearestLeg(r.nodes, p)
	z := make([]float64, len(r.nodes))
	z[k], z[k+1] = 1-u, u
	r.factor.solve(z)
	post := (1-u)*z[k] + u*z[k+1]
	wt = make([]float64, len(part))
	for i, q := range part {
		f := r.foot[i]
		wt[i] = q.wt * ((1-float64(f.u))*z[f.k] + float64(f.u)*z[f.k+1])
		post -= wt[i] * wt[i] / q.wt
	}
	return wt, max(0, post)
}

func nearestLeg(nodes []geo.XY, p geo.XY) (int, float64) {
	best, at, share := math.Inf(1), 0, 0.0
	for k := 0; k+1 < len(nodes); k++ {
		if u, d := legFoot(nodes[k], nodes[k+1], p); d < best {
			best, at, share = d, k, u
		}
	}
	return at, share
}

// spreadOf sums the variances. The correlated part is carried from reading to
// reading along the walk, in both axes.
func (b *bander) spreadOf(r *run, wt []float64) spread {
	sp := spread{tau: make([]float64, len(b.taus))}
	sp.sway = b.w.swayVariance(r, b.walked(r), wt)
	carried := make([]geo.XY, len(b.taus))
	var whole, slow geo.XY
	last := math.NaN()
	for _, i := range b.walked(r) {
		a := wt[i]
		if a == 0 {
			continue
		}
		o := r.part[i]
		n := r.normalOf(int(i))
		if o.exposed {
			sp.fixed += sq(a * o.sigmaM)
			continue
		}
		sp.white += sq(a * o.sigmaM)
		sp.pin += a * a
		v := n.Scale(a * o.sigmaM)
		whole = whole.Add(v)
		if o.staysOff() {
			slow = slow.Add(v)
		}
		for j, tau := range b.taus {
			phi := 0.0
			if !math.IsNaN(last) {
				phi = math.Exp(-(o.clockS - last) / tau)
			}
			// The variance of the sum so far grows by the new term squared and
			// twice its covariance with what is carried.
			carried[j] = carried[j].Scale(phi)
			sp.tau[j] += v.Dot(v) + 2*v.Dot(carried[j])
			carried[j] = carried[j].Add(v)
		}
		last = o.clockS
	}
	sp.whole, sp.slow = whole.Dot(whole), slow.Dot(slow)
	return sp
}

// staysOff reports whether what a position is stated to be off may stay as it is for as long
// as a walk takes: what comes by code, or by carrier phase without fixed cycles, is off by
// the same for tens of minutes (published: Sensors 2020, 20:6050), so that a walk of minutes
// neither shows it nor averages it away, and a curve drawn through readings follows them.
func (o *observation) staysOff() bool {
	return o.loose && !o.exposed
}

// mostlyLoose reports whether most of a walk's positions stay off so.
func (w *walk) mostlyLoose() bool {
	n := 0
	for i := range w.obs {
		if w.obs[i].staysOff() {
			n++
		}
	}
	return 2*n > len(w.obs)
}

// normalOf is the unit normal at a sample's foot.
func (r *run) normalOf(i int) geo.XY {
	switch {
	case r.arc:
		return unit(r.part[i].p.Sub(r.circle.center))
	case r.straight || len(r.foot) == 0:
		return r.normals[0]
	}
	return r.normals[r.foot[i].k]
}

// mixtureBins is how many variances stand for those of all noise models, which makes a
// band cheap: evenly by their logarithm. Judgement.
const mixtureBins = 24

// variance is that of a spread under one noise model.
func (b *bander) variance(m noiseModel, sp spread) float64 {
	f2 := m.factor * m.factor
	positions := f2*(1-m.share)*sp.white + f2*m.share*at(sp.tau, b.taus, m.tauS) + f2*receiver.WholeShare*sp.whole
	slow := sp.slow
	if offM := b.w.otherFixM(m); offM > 0 { // see staysOff
		slow = sq(offM/b.w.scaleM) * sp.whole
	}
	return max(positions, slow) + sq(m.pinM)*sp.pin + sp.sway + sp.fixed + sp.bias
}

// mixture is the half-width that holds 95 % under the whole posterior of the
// noise, not under its mean: of the spreads, the greatest under each model.
func (b *bander) mixture(spreads ...spread) float64 {
	var wt, vr [mixtureBins]float64
	lo, hi := math.Inf(1), 0.0
	vars := b.vars
	for i, m := range b.noise.models {
		vars[i] = 1e-12
		for _, sp := range spreads {
			vars[i] = max(vars[i], b.variance(m, sp))
		}
		lo, hi = min(lo, vars[i]), max(hi, vars[i])
	}
	span := math.Log(hi / lo)
	for i, v := range vars {
		k := 0
		if span > 0 {
			k = min(mixtureBins-1, int(math.Log(v/lo)/span*mixtureBins))
		}
		wt[k] += b.noise.models[i].weight
		vr[k] += b.noise.models[i].weight * v
	}
	return twoSided(wt[:], vr[:], math.Sqrt(hi))
}

// The half-width of a band is found by halving, from 0 to surelyInside sigmas of the
// widest part, beyond which lies less than a millionth of a normal error: bounds of the
// arithmetic.
const (
	surelyInside = 5.0
	bandHalvings = 24   // a hundred metres end below a hundredth of a millimetre
	outsideBand  = 0.05 // what a 95 % band leaves out, on both sides together
)

// twoSided solves Σ w·P(|N(0,v)| > h) = 5 % for h; v holds w·variance.
func twoSided(wt, wv []float64, top float64) float64 {
	roots := make([]float64, 0, mixtureBins) // of twice the variances that have a weight
	weights := make([]float64, 0, mixtureBins)
	for k, w := range wt {
		if w > 0 {
			roots, weights = append(roots, math.Sqrt(2*wv[k]/w)), append(weights, w)
		}
	}
	return halved(surelyInside*top, func(h float64) float64 {
		p := 0.0
		for k, w := range weights {
			p += w * math.Erfc(h/roots[k])
		}
		return p
	})
}

// halved finds by halving, from 0 to top, where what lies outside of a half-width falls to
// outsideBand.
func halved(top float64, outside func(h float64) float64) float64 {
	lo, hi := 0.0, top
	for range bandHalvings {
		if h := (lo + hi) / 2; outside(h) > outsideBand {
			lo = h
		} else {
			hi = h
		}
	}
	return hi
}

// at interpolates a per-tau value; the grids are the same.
func at(v, taus []float64, tau float64) float64 {
	for j, t := range taus {
		if t >= tau*(1-1e-9) {
			return v[j]
		}
	}
	return v[len(v)-1]
}

// common is the 95 % half-width of what moves the whole walk together: the mean
// of the Gauss-Markov part over the walk's duration (Gelb 1974), and the part
// that never changes.
func (b *bander) common() float64 {
	n := len(b.w.obs)
	if n == 0 {
		return 0
	}
	total := math.Abs(b.w.obs[n-1].clockS - b.w.obs[0].clockS)
	s2, v, loose := sq(b.w.scaleM), 0.0, b.w.mostlyLoose()
	for _, m := range b.noise.models {
		x := total / m.tauS
		f := 1.0
		if x > 1e-6 {
			f = 2 / x * (1 - (1-math.Exp(-x))/x)
		}
		least := sq(b.w.otherFixM(m))
		if loose {
			least = s2
		}
		v += m.weight * max(least, m.factor*m.factor*(m.share*f+receiver.WholeShare)*s2)
	}
	return 1.96 * math.Sqrt(v)
}
