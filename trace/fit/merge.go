package fit

import (
	"context"
	"math"

	"loamline/geo"
)

// maxSmooth bounds the samples of one smooth run, so that long lines stay near
// linear in time; runs that meet there are joined without a corner.
const maxSmooth = 1500

// builder turns spans into runs.
type builder struct {
	s     []sample
	guide []geo.XY // denoised places of the samples
	hM    float64  // node distance of smooth runs
	price float64
}

// newBuilder prepares the guide: each sample moved onto the line or arc of its
// span.
func newBuilder(s []sample, spans []span, hM float64) *builder {
	b := &builder{s: s, guide: make([]geo.XY, len(s)), hM: hM}
	b.price = segmentPrice(len(s))
	for _, sp := range spans {
		b.denoise(sp)
	}
	return b
}

func (b *builder) denoise(sp span) {
	part := b.s[sp.from:sp.to]
	var m moments
	origin := part[0].p
	for _, q := range part {
		m.add(q.p.Sub(origin), q.wt)
	}
	if sp.arc {
		if c, _, ok := m.arc(); ok {
			for i, q := range part {
				d := q.p.Sub(origin).Sub(c.center)
				if l := d.Norm(); l > 0 {
					b.guide[sp.from+i] = origin.Add(c.center).Add(d.Scale(c.radius / l))
				}
			}
			return
		}
	}
	l, _ := m.line()
	for i, q := range part {
		t := q.p.Sub(origin).Sub(l.at).Dot(l.dir)
		b.guide[sp.from+i] = origin.Add(l.at).Add(l.dir.Scale(t))
	}
}

// best returns the better of a straight and a smooth run over the samples.
func (b *builder) best(from, to int) (run, bool) {
	r := fitStraight(b.s, from, to)
	n := to - from
	if n < 5 || n > maxSmooth || r.rss < float64(n)-2*b.price {
		return r, true
	}
	sm, ok := fitSmooth(b.s, from, to, b.guide, b.hM)
	if ok && sm.score(b.price) < r.score(b.price) && b.sane(&sm) {
		return sm, true
	}
	return r, true
}

// sane refuses a curve much longer than the ground walked, or one that winds.
func (b *builder) sane(r *run) bool {
	ground := b.s[r.to-1].station - b.s[r.from].station
	line := geo.NewPolyline(r.nodes)
	if line.Length() > 1.3*ground+2*b.hM {
		return false
	}
	turn, least, most := 0.0, 0.0, 0.0
	for k := 1; k+1 < len(r.nodes); k++ {
		a, c := r.nodes[k].Sub(r.nodes[k-1]), r.nodes[k+1].Sub(r.nodes[k])
		turn += math.Atan2(a.Cross(c), a.Dot(c))
		least, most = math.Min(least, turn), math.Max(most, turn)
	}
	return most-least < 225*math.Pi/180
}

// runs fits each span and joins neighbours, up to four at a time, wherever one
// run scores better than several.
func (b *builder) runs(ctx context.Context, spans []span) ([]run, error) {
	parts := make([]run, 0, len(spans))
	for _, sp := range spans {
		r, _ := b.best(sp.from, sp.to)
		parts = append(parts, r)
	}
	type offer struct {
		gain float64
		r    run
	}
	known := map[[2]int]offer{}
	for len(parts) > 1 {
		bestGain, at, width := 1e-9, -1, 0
		for i := range parts {
			for k := 2; k <= 4 && i+k <= len(parts); k++ {
				key := [2]int{parts[i].from, parts[i+k-1].to}
				o, ok := known[key]
				if !ok {
					o.r, _ = b.best(key[0], key[1])
					sum := 0.0
					for _, p := range parts[i : i+k] {
						sum += p.score(b.price)
					}
					o.gain = sum - o.r.score(b.price)
					known[key] = o
				}
				if o.gain > bestGain {
					bestGain, at, width = o.gain, i, k
				}
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		if at < 0 {
			break
		}
		key := [2]int{parts[at].from, parts[at+width-1].to}
		merged := known[key].r
		parts = append(parts[:at], append([]run{merged}, parts[at+width:]...)...)
		for k := range known {
			if k[0] < key[1] && k[1] > key[0] {
				delete(known, k)
			}
		}
	}
	return parts, nil
}
