package fit

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// settledBy is by how much more than a rival may cost a group's absence must cost,
// reckoned from it alone, for it not to be tried: what its run's Occam factor and the
// noise gain without it is less. Judgement.
const settledBy = 5.0

// settled reports whether a line without some readings cannot be as likely: they lie on
// straight runs that stand, and cross, by their other readings, so that without
// them the line is where it is, and what they cost as leaps is more than they
// save.
func (t *traced) settled(g verdict, scale float64) bool {
	gain, last := 0.0, int32(-1)
	for i := g.from; i < g.to; i++ {
		o := &t.w.obs[i]
		if o.piece < 0 {
			continue
		}
		r := &t.sh.runs[o.piece]
		if !r.straight || len(r.part)-(g.to-g.from) < 2*mostEnd || last >= 0 && o.piece != last {
			return false
		}
		last = o.piece
		sigma := scale * math.Hypot(o.sigmaM, t.w.floorM)
		gain += sq(o.offsetM/sigma) + 2*math.Log(sigma)
	}
	if last < 0 || !t.standsWithout(g, last) {
		return false
	}
	with, _ := t.outliers(verdict{})
	without, _ := t.outliers(g)
	return without-with-gain > mostBehind+settledBy
}

// standsWithout reports whether a run that a group begins or ends begins or ends there
// where it crosses another that is straight and long too, or with the line.
func (t *traced) standsWithout(g verdict, piece int32) bool {
	r := &t.sh.runs[piece]
	for _, q := range []struct {
		end  sample
		next int32
	}{{r.part[0], piece - 1}, {r.part[len(r.part)-1], piece + 1}} {
		at := slices.IndexFunc(t.w.obs[g.from:g.to], func(o observation) bool { return o.index == q.end.index })
		if at < 0 || q.next < 0 || int(q.next) == len(t.sh.runs) {
			continue
		}
		v := slices.Index(t.sh.owner, max(piece, q.next))
		other := &t.sh.runs[q.next]
		if v < 0 || len(other.part) < 3*mostEnd || !r.passes(t.sh.line.Points[v]) || !other.passes(t.sh.line.Points[v]) {
			return false
		}
	}
	return true
}

// passes reports whether a straight run, lengthened, passes through a place.
func (r *run) passes(p geo.XY) bool {
	return r.straight && math.Abs(p.Sub(r.nodes[0]).Dot(r.normals[0])) < 1e-6
}
