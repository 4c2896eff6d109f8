package fit

import (
	"context"
	"math"
	"sort"

	"loamline/geo"
)

// maxSmooth bounds the samples of one smooth run, so that long lines stay near
// linear in time; runs that meet there are joined without a corner.
const maxSmooth = 1500

// builder turns spans into runs.
type builder struct {
	s      []sample
	held   []bool   // by its span
	loose  []bool   // between spans, and a usual step from one of its neighbours
	guide  []geo.XY // denoised places of the samples
	hM     float64  // node distance of smooth runs
	price  float64
	depthM float64 // usual
	nearM  float64 // how far a suspect may be from the next reading of its piece
	noArcs bool
	cutM   float64 // by how much a corner may cut a run short of its readings
}

// newBuilder prepares the guide: each sample that its span holds is moved onto
// the span's line or arc.
func newBuilder(s []sample, spans []span, hM float64, w *walk) *builder {
	b := &builder{s: s, held: make([]bool, len(s)), loose: make([]bool, len(s)), guide: make([]geo.XY, len(s)), hM: hM, depthM: w.depthM, nearM: w.suspectReach(), cutM: w.stepM, noArcs: w.noArcs}
	b.price = segmentPrice(len(s))
	reachOut(s, spans, strayParams*b.price, b.nearM)
	for _, sp := range spans {
		b.denoise(sp)
	}
	b.findLoose(spans, 2.2*w.stepM)
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
	used := map[int32]bool{}
	for _, r := range runs {
		for _, q := range r.part {
			used[q.obs] = true
		}
	}
	out := make([][]sample, len(runs))
	k := 0
	for i := 0; i+1 < len(runs); i++ {
		for k < len(b.s) && b.s[k].obs != runs[i].part[len(runs[i].part)-1].obs {
			k++
		}
		for ; k < len(b.s) && b.s[k].obs != runs[i+1].part[0].obs; k++ {
			if b.loose[k] && !used[b.s[k].obs] {
				out[i] = append(out[i], b.s[k])
			}
		}
	}
	return out
}

func (b *builder) denoise(sp span) {
	origin := b.s[sp.from].p
	m := hold(b.s[sp.from:sp.to], b.held[sp.from:sp.to], sp, strayParams*b.price, b.nearM)
	c, _, ok := m.arc()
	l, _ := m.line()
	for i := sp.from; i < sp.to; i++ {
		p := b.s[i].p.Sub(origin)
		switch {
		case !b.held[i] || m.n < 2:
			p = b.s[i].p.Sub(origin)
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
	part, guide, strays := b.window(from, to, false)
	if len(part) < 2 {
		return run{}, false
	}
	r := b.better(part, guide, strays)
	if n := len(part); n < to-from {
		part, guide, strays = b.window(from, to, true)
		if len(part) == n {
			r.from, r.to = from, to
			return r, true
		}
		if all := b.better(part, guide, strays); all.score(b.price) < r.score(b.price) {
			r = all
		}
	}
	r.from, r.to = from, to
	return r, true
}

// window collects the samples of a window, loose ones only where all are asked
// for, and the price of the rest.
func (b *builder) window(from, to int, all bool) (part []sample, guide []geo.XY, strays float64) {
	for i := from; i < to; i++ {
		if b.held[i] || (all && b.loose[i]) {
			part, guide = append(part, b.s[i]), append(guide, b.guide[i])
		} else if b.s[i].suspect {
			strays += suspectParams * b.price
		} else {
			strays += strayParams * b.price
		}
	}
	return part, guide, strays
}

// better returns the best of a straight run, an arc and a smooth run through
// samples.
func (b *builder) better(part []sample, guide []geo.XY, strays float64) run {
	r := fitStraight(part)
	r.strays = strays
	n := len(part)
	if n <= maxSmooth && r.rss > b.price && !b.noArcs {
		arc, ok := fitArc(part)
		arc.strays = strays
		if ok && arc.score(b.price) < r.score(b.price) && arc.sane() {
			r = arc
		}
	}
	if n < 5 || n > maxSmooth || r.rss < float64(n)-2*b.price {
		return r
	}
	sm, ok := fitSmooth(part, guide, b.hM)
	sm.strays = strays
	if ok && sm.score(b.price) < r.score(b.price) && sm.sane() {
		return sm
	}
	return r
}

// mostTurned is the most that a run without a corner may turn.
const mostTurned = 225 * math.Pi / 180

// sane refuses a curve much longer than the ground walked, or one that winds.
func (r *run) sane() bool {
	ground := r.part[len(r.part)-1].station - r.part[0].station
	line := geo.NewPolyline(r.nodes)
	if line.Length() > 1.3*ground+2*r.hM {
		return false
	}
	turn, least, most := 0.0, 0.0, 0.0
	for k := 1; k+1 < len(r.nodes); k++ {
		a, c := r.nodes[k].Sub(r.nodes[k-1]), r.nodes[k+1].Sub(r.nodes[k])
		turn += math.Atan2(a.Cross(c), a.Dot(c))
		least, most = math.Min(least, turn), math.Max(most, turn)
	}
	return most-least < mostTurned
}

// An elbow that no smooth run can hold: the least turn, and the readings on both
// sides that make it sure.
const (
	plainElbow    = 25 * math.Pi / 180
	plainReadings = 6
)

// elbowInside reports whether two straight parts in a row meet at a plain elbow.
func elbowInside(parts []run) bool {
	for i := 0; i+1 < len(parts); i++ {
		a, b := &parts[i], &parts[i+1]
		if !a.straight || !b.straight || len(a.part) < plainReadings || len(b.part) < plainReadings {
			continue
		}
		if turnBetween(a.nodes[1].Sub(a.nodes[0]), b.nodes[1].Sub(b.nodes[0])) > plainElbow {
			return true
		}
	}
	return false
}

// runs fits each span and joins neighbours, up to four at a time, wherever one
// run scores better than several: the best joins first, and again until none
// pays.
func (b *builder) runs(ctx context.Context, spans []span) ([]run, error) {
	parts := make([]run, 0, len(spans))
	for i, sp := range spans {
		from, to := sp.from, sp.to
		if i == 0 {
			from = 0
		}
		if i+1 == len(spans) {
			to = len(b.s)
		}
		if r, ok := b.best(from, to); ok {
			parts = append(parts, r)
		}
	}
	gains := make([]joinGains, len(parts))
	for {
		if err := b.weighJoins(ctx, parts, gains); err != nil {
			return nil, err
		}
		width := chooseJoins(parts, gains)
		if width == nil {
			return parts, nil
		}
		parts, gains = b.join(parts, gains, width)
	}
}

// mostJoined is the number of parts that may become one at a time.
const mostJoined = 4

// joinGains is what the score gains where a part is joined with the next one,
// two, three; known tells which have been worked out.
type joinGains struct {
	gain  [mostJoined - 1]float64
	known [mostJoined - 1]bool
}

// weighJoins works out the gains that are not known yet.
func (b *builder) weighJoins(ctx context.Context, parts []run, gains []joinGains) error {
	for i := range parts {
		if err := ctx.Err(); err != nil {
			return err
		}
		sum := parts[i].score(b.price)
		for k := 0; k+2 <= mostJoined && i+k+1 < len(parts); k++ {
			last := &parts[i+k+1]
			sum += last.score(b.price)
			if gains[i].known[k] {
				continue
			}
			gains[i].known[k], gains[i].gain[k] = true, -1
			if elbowInside(parts[i : i+k+2]) {
				continue
			}
			if r, ok := b.best(parts[i].from, last.to); ok {
				gains[i].gain[k] = sum - r.score(b.price)
			}
		}
	}
	return nil
}

// chooseJoins picks joins that don't share a part, best first, and returns for
// each part how many from it on become one; nil where none pays.
func chooseJoins(parts []run, gains []joinGains) []int {
	type join struct{ at, width int }
	var all []join
	for i := range gains {
		for k, g := range gains[i].gain {
			if gains[i].known[k] && g > 1e-9 {
				all = append(all, join{i, k + 2})
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	sort.SliceStable(all, func(a, c int) bool {
		return gains[all[a].at].gain[all[a].width-2] > gains[all[c].at].gain[all[c].width-2]
	})
	taken := make([]bool, len(parts))
	width := make([]int, len(parts))
	for _, j := range all {
		free := true
		for i := j.at; i < j.at+j.width; i++ {
			free = free && !taken[i]
		}
		if !free {
			continue
		}
		width[j.at] = j.width
		for i := j.at; i < j.at+j.width; i++ {
			taken[i] = true
		}
	}
	return width
}

// join makes the chosen joins and keeps the gains of windows that they leave
// alone.
func (b *builder) join(parts []run, gains []joinGains, width []int) ([]run, []joinGains) {
	out, left := parts[:0:0], gains[:0:0]
	for i := 0; i < len(parts); i++ {
		if w := width[i]; w > 0 {
			r, _ := b.best(parts[i].from, parts[i+w-1].to)
			out, left = append(out, r), append(left, joinGains{})
			i += w - 1
			continue
		}
		g := gains[i]
		for k := range g.known {
			for j := i + 1; j <= min(i+k+1, len(parts)-1); j++ {
				g.known[k] = g.known[k] && width[j] == 0
			}
		}
		out, left = append(out, parts[i]), append(left, g)
	}
	return out, left
}
