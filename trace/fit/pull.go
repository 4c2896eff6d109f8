package fit

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// Over a line that bends, peak and null stand apart, and neither over the line: the field of
// its bends has a part downward, which shifts the null outward, and a slope across, which shifts
// the peak of the field across inward. A receiver that takes the whole field has its peak as
// far to the other side of that as the null lies to this one (package receiver). Nobody
// states which of the three was marked, so the band holds them all.

// pull is how far to the right of the line the peak of the field across and the null stand.
type pull struct{ peakM, nullM float32 }

// marked is what may have been marked.
type marked int

const (
	peakMarked  marked = iota // the peak of the field across
	nullMarked                // the null
	wholeMarked               // the peak of the whole field
	marksKnown
)

// markedPrior is how many locators mark each. Judgement, no source: most the peak across.
var markedPrior = [marksKnown]float64{0.8, 0.1, 0.1}

// offM is where what was marked stands to the right of the line.
func (p pull) offM(m marked) float64 {
	peak, null := float64(p.peakM), float64(p.nullM)
	switch m {
	case nullMarked:
		return null
	case wholeMarked:
		return receiver.WholePeakM(peak, null-peak)
	}
	return peak
}

// leastBendRad is the least that a line turns, in all, within reach of a place for its bends
// to be felt there. Judgement: half of it on one side pulls a null by a fiftieth of a depth.
const leastBendRad = 0.1

// comesBackRad is the least that a line turns in all before it comes back to itself.
// Judgement: a right angle and a half.
const comesBackRad = 135 * math.Pi / 180

// marks finds what the bends do over each reading, and by the readings' residuals how
// likely each of the things is that may have been marked; nil where there is no bend.
func (t *traced) marks(readings []reading, vs []trace.Vertex, ways []way) []float64 {
	if !t.findPulls(readings, vs, ways) {
		return nil
	}
	res := t.w.residuals(t.sh, maxNoiseReadings)
	basis := designColumns(res, t.sh)
	if len(res) < basis.count+1 {
		basis = design{}
	}
	n := t.noise.mean
	m := noiseModel{share: n.share, tauS: n.tauS, pinM: n.pinM / n.factor}
	pass, phi := basis.newInnovations(1), make([]float64, len(res))
	carried(phi, res, m.tauS)
	var l [marksKnown]float64
	off := make([]residual, len(res))
	for k := range l {
		for i, r := range res {
			r.e -= r.pull.offM(marked(k))
			off[i] = r
		}
		pass[0].under(m)
		walkAll(pass, off, basis, phi)
		q, _, _ := pass[0].restricted(len(off), basis)
		l[k] = math.Log(markedPrior[k]) - 0.5*q/sq(n.factor)
	}
	best, total := math.Max(l[0], math.Max(l[1], l[2])), 0.0
	out := make([]float64, marksKnown)
	for k := range l {
		out[k] = math.Exp(l[k] - best)
		total += out[k]
	}
	for k := range out {
		out[k] /= total
	}
	return out
}

// findPulls notes what the bends do over each reading, and tells whether they do anything.
func (t *traced) findPulls(readings []reading, vs []trace.Vertex, ways []way) (any bool) {
	if len(vs) < 3 { // one leg
		return false
	}
	own := newOwnField(vs, ways)
	if own.turns[len(vs)-1] < leastBendRad {
		return false
	}
	for i := range t.w.obs {
		o := &t.w.obs[i]
		depthM := readings[o.index].DepthM
		if !(depthM > 0) {
			depthM = t.w.depthM
		}
		if o.fate == Used && !o.exposed && own.bends(o.stationM, depthM) {
			o.pull, any = own.pullAt(o.stationM, depthM), true
		}
	}
	return any
}

// bends reports whether the line turns within reach of a station, or comes back there.
func (b *ownField) bends(stationM, depthM float64) bool {
	o := b.lookFrom(stationM)
	w := b.within(o, fieldReach*depthM)
	return b.turnIn(w) > leastBendRad || b.comesBack(o, w, depthM)
}

// pullAt is what the bends do at a station.
func (b *ownField) pullAt(stationM, depthM float64) pull {
	o := b.lookFrom(stationM)
	w := b.within(o, fieldReach*depthM)
	sum := func(p geo.XY) (across, down float64) {
		add := func(_ int, seen receiver.SeenLeg) {
			a, d := seen.Field(depthM)
			across, down = across+a, down+d
		}
		b.eachBeside(o, w, p, depthM, add)
		for i := w.from; i <= w.to; i++ {
			add(i, b.see(i, p, o.t))
		}
		before, after := b.beyond(w, p, o.t, depthM)
		add(w.from, before)
		add(w.to, after)
		return across, down
	}
	right := geo.XY{X: o.t.Y, Y: -o.t.X}.Scale(biasStepM)
	_, e := sum(o.p)
	before, _ := sum(o.p.Sub(right))
	after, _ := sum(o.p.Add(right))
	peakM := clamp(receiver.PeakOffM((after-before)/(2*biasStepM), 0, depthM), -mostBiasDepths*depthM, mostBiasDepths*depthM)
	return pull{float32(peakM), float32(receiver.NullOffM(e, depthM))}
}

// pullHeld widens a half-width at p on a run to hold 95 % of where the line lies, whatever
// was marked. A straight run lies off by what the bends pull at its samples, by the weight
// of each in its offset; a smooth one follows what they pull at p.
func (b *bander) pullHeld(id int, p geo.XY, h float64) float64 {
	if b.marks == nil {
		return h
	}
	r := &b.sh.runs[id]
	var sd, off [marksKnown]float64
	add := func(q sample, w float64) {
		for k := range off {
			off[k] += w * q.pull.offM(marked(k))
		}
	}
	if r.straight {
		for i, w := range r.leverage(p) {
			add(r.part[i], w)
		}
	} else {
		near, next, u := r.beside(p)
		add(near, 1-u)
		add(next, u)
	}
	top := 0.0
	for k := range off {
		sd[k], off[k] = math.Hypot(h/1.96, biasShare*off[k]), math.Abs(off[k])
		top = math.Max(top, off[k]+surelyInside*sd[k])
	}
	return halfWidth(sd[:], off[:], b.marks, 1, top)
}

// beside are the sample of a run nearest to p and the nearer of its neighbours, and how far
// p lies from the one to the other.
func (r *run) beside(p geo.XY) (nearest, next sample, u float64) {
	k := 0
	for i, q := range r.part {
		if q.p.Dist(p) < r.part[k].p.Dist(p) {
			k = i
		}
	}
	nearest, next = r.part[k], r.part[max(0, k-1)]
	if after := r.part[min(k+1, len(r.part)-1)]; k == 0 || after.p.Dist(p) < next.p.Dist(p) {
		next = after
	}
	d, e := nearest.p.Dist(p), next.p.Dist(p)
	return nearest, next, d / math.Max(d+e, 1e-9)
}
