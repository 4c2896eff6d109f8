package fit

import (
	"math"

	"loamline.example/geo"
)

// maxSmooth bounds the samples of one smooth run, so that long lines stay near
// linear in time; runs that meet there are joined without a corner. Judgement.
const maxSmooth = 1500

// Limits of what a builder tries. Judgement.
const (
	// leastSmooth is the least number of samples of a smooth run: what four can tell, an
	// arc does.
	leastSmooth = 5
	// looseSteps is how many usual steps a sample between two spans may be from its
	// neighbours to be of a bend there: one missed place is no end of the readings, two
	// are.
	looseSteps = 2.2
)

// builder turns spans into runs.
type builder struct {
	s        []sample
	included []bool   // by its span
	loose    []bool   // between spans, and a usual step from one of its neighbours
	guide    []geo.XY // denoised places of the samples
	room     []geo.XY // for the guide of a window
	hM       float64  // node distance of smooth runs
	price    float64
	depthM   float64 // usual
	nearM    float64 // how far a suspect may be from the next reading of its piece
	noArcs   bool    // bends are smooth runs alone
	bends    *bendFits
	cutM     float64 // by how much a corner may cut a run short of its readings
}

// newBuilder prepares the guide: each sample that its span holds is moved onto
// the span's line or arc.
func newBuilder(s []sample, spans []span, hM float64, w *walk) *builder {
	b := &builder{s: s, included: make([]bool, len(s)), loose: make([]bool, len(s)), guide: make([]geo.XY, len(s)), hM: hM, depthM: w.depthM, nearM: w.suspectReach(), cutM: w.stepM, noArcs: w.noArcs, bends: w.bends}
	b.price = segmentPrice(len(s))
	for _, sp := range spans {
		b.denoise(sp)
	}
	b.findLoose(spans, looseSteps*w.stepM)
	return b
}

// findLoose notes the samples that lie between two spans, near enough to the
// ones before and after to be a bend that no span holds.
func (b *builder) findLoose(spans []span, nearM float64) {
	for i := 0; i <= len(spans); i++ {
		from, to := 0, len(b.s)
		if i > 0 {
			from = spans[i-1].to
		}
		if i < len(spans) {
			to = spans[i].from
		}
		if to-from > 4 {
			continue
		}
		near := true
		for k := max(1, from); k < min(to+1, len(b.s)); k++ {
			near = near && b.s[k-1].p.Dist(b.s[k].p) < nearM
		}
		for k := from; k < to; k++ {
			b.loose[k] = near
			b.guide[k] = b.s[k].p
		}
	}
}

// between returns the loose samples between each run and the next.
func (b *builder) between(runs []run) [][]sample {
	used := map[sample]bool{} // of the loose ones
	for k, q := range b.s {
		if b.loose[k] {
			used[q] = false
		}
	}
	for _, r := range runs {
		for _, q := range r.part {
			if _, ok := used[q]; ok {
				used[q] = true
			}
		}
	}
	out := make([][]sample, len(runs))
	k := 0
	for i := 0; i+1 < len(runs); i++ {
		for k < len(b.s) && b.s[k] != runs[i].part[len(runs[i].part)-1] {
			k++
		}
		for ; k < len(b.s) && b.s[k] != runs[i+1].part[0]; k++ {
			if b.loose[k] && !used[b.s[k]] {
				out[i] = append(out[i], b.s[k])
			}
		}
	}
	return out
}

func (b *builder) denoise(sp span) {
	origin := b.s[sp.from].p
	m := include(b.s[sp.from:sp.to], b.included[sp.from:sp.to], sp, outlierParams*b.price, b.nearM)
	c, _, ok := m.arc()
	l, _ := m.line()
	for i := sp.from; i < sp.to; i++ {
		p := b.s[i].p.Sub(origin)
		switch {
		case !b.included[i] || m.n < 2: // stays where it is
		case sp.arc && ok:
			d := p.Sub(c.center)
			p = c.center.Add(d.Scale(c.radius / math.Max(d.Norm(), 1e-9)))
		default:
			p = l.at.Add(l.dir.Scale(p.Sub(l.at).Dot(l.dir)))
		}
		b.guide[i] = p.Add(origin)
	}
}

// best returns the best run over a window of samples: straight or smooth, with
// or without the loose ones.
func (b *builder) best(from, to int) (run, bool) {
	part, guide, outliers := b.window(from, to, false)
	if len(part) < 2 {
		return run{}, false
	}
	r := b.better(part, guide, outliers)
	if n := len(part); n < to-from {
		part, guide, outliers = b.window(from, to, true)
		if len(part) == n {
			r.from, r.to = from, to
			return r, true
		}
		if all := b.better(part, guide, outliers); all.score(b.price) < r.score(b.price) {
			r = all
		}
	}
	r.from, r.to = from, to
	return r, true
}

// window collects the samples of a window, loose ones only where all are asked
// for, and the price of the rest. The guide is good until the next window.
func (b *builder) window(from, to int, all bool) (part []sample, guide []geo.XY, outliers float64) {
	n := 0
	for i := from; i < to; i++ {
		if b.included[i] || (all && b.loose[i]) {
			n++
		}
	}
	part, guide = make([]sample, 0, n), b.room[:0]
	defer func() { b.room = guide }()
	for i := from; i < to; i++ {
		if b.included[i] || (all && b.loose[i]) {
			part, guide = append(part, b.s[i]), append(guide, b.guide[i])
		} else if b.s[i].suspect {
			outliers += suspectParams * b.price
		} else {
			outliers += outlierParams * b.price
		}
	}
	return part, guide, outliers
}

// better returns the best of a straight run, an arc and a smooth run through
// samples.
func (b *builder) better(part []sample, guide []geo.XY, outliers float64) run {
	r := fitStraight(part)
	r.outliers = outliers
	n := len(part)
	mayArc := n <= maxSmooth && r.rss > b.price && !b.noArcs
	maySmooth := n >= leastSmooth && n <= maxSmooth
	if !mayArc && (!maySmooth || r.rss < float64(n)-2*b.price) {
		return r
	}
	fits := b.bends.of(part, guide, b.hM)
	if mayArc {
		arc, ok := b.bends.arcThrough(fits, part)
		arc.outliers = outliers
		if ok && arc.score(b.price) < r.score(b.price) {
			r = arc
		}
	}
	if !maySmooth || r.rss < float64(n)-2*b.price {
		return r
	}
	sm, ok := b.bends.smoothThrough(fits, part, guide)
	sm.outliers = outliers
	if ok && sm.score(b.price) < r.score(b.price) {
		return sm
	}
	return r
}
