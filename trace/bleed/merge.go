package bleed

import (
	"slices"
)

// merge joins findings of the same neighbour, of overlapping windows or of one,
// that overlap or that lie closer together than can be told apart: the better
// one's figures stand for both.
func merge(out, more []finding) []finding {
	for _, f := range more {
		i := slices.IndexFunc(out, f.continues)
		if i < 0 {
			out = append(out, f)
			continue
		}
		from, to := min(out[i].from, f.from), max(out[i].to, f.to)
		if f.logOdds > out[i].logOdds {
			out[i] = f
		}
		out[i].from, out[i].to = from, to
	}
	return out
}

// holeDepths is the length of a hole, in depths, that the field cannot show
// between two coupled stretches. Judgement, as leastLengthDepths of a stretch.
const holeDepths = 2.5

// continues reports whether two findings are of one stretch.
func (f finding) continues(o finding) bool {
	if o.c.e.path != f.c.e.path {
		return false
	}
	if o.from <= f.to && f.from <= o.to {
		return true
	}
	first, next := o, f
	if f.from < o.from {
		first, next = f, o
	}
	rd := f.c.col.rd
	hole := rd[next.from].StationM - rd[first.to].StationM
	sameWay := (f.p[pShare] > 0) == (o.p[pShare] > 0)
	return sameWay && (next.from == first.to+1 || hole < holeDepths*f.c.col.depth[next.from])
}
