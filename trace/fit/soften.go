package fit

import (
	"math"

	"loamline.example/geo"
)

// soften looks at each place where two straight runs meet: where the last
// reading of the one or the first of the other lies in a bend rather than on
// its line, the lines are better without them and the bend with them. The runs
// are refitted and the readings become loose.
func (b *builder) soften(runs []run, loose [][]sample) {
	for i := 0; i+1 < len(runs); i++ {
		first, second := &runs[i], &runs[i+1]
		if !first.straight || !second.straight {
			continue
		}
		best := b.cornerScore(first, second, loose[i])
		heads, tails := shortened(first.part, false), shortened(second.part, true)
		var a, c run
		var free []sample
		for _, drop := range [][2]int{{1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}, {2, 1}, {1, 2}} {
			na, nc := len(first.part)-drop[0], len(second.part)-drop[1]
			if na < 3 || nc < 3 {
				continue
			}
			ta, tc := heads[drop[0]], tails[drop[1]]
			l := append(append(append([]sample(nil), first.part[na:]...), loose[i]...), second.part[:drop[1]]...)
			if score := b.cornerScore(&ta, &tc, l) + 1e-6; score < best {
				best, a, c, free = score, ta, tc, l
			}
		}
		if free != nil {
			a.from, a.to, a.outliers = first.from, first.to, first.outliers
			c.from, c.to, c.outliers = second.from, second.to, second.outliers
			*first, *second, loose[i] = a, c, free
		}
	}
}

// shortened are the straight runs through samples without none, one and two at the start or
// the end, as far as three are left.
func shortened(part []sample, atStart bool) (out [3]run) {
	for drop := 0; drop < len(out) && len(part)-drop >= 3; drop++ {
		if atStart {
			out[drop] = fitStraight(part[drop:])
		} else {
			out[drop] = fitStraight(part[:len(part)-drop])
		}
	}
	return out
}

// cornerScore is the sum of weighted squares of two straight runs and the loose
// readings between them, with the price of a bend or of outliers.
func (b *builder) cornerScore(first, second *run, loose []sample) float64 {
	outlierCost := outlierParams * b.price
	score := first.rss + second.rss + outlierCost*float64(len(loose))
	in, out := unit(first.nodes[1].Sub(first.nodes[0])), unit(second.nodes[1].Sub(second.nodes[0]))
	turn := math.Atan2(in.Cross(out), in.Dot(out))
	if len(loose) == 0 || math.Abs(turn) < leastTurn || math.Abs(turn) > mostTurn {
		return score
	}
	at, ok := lineCrossing(first.nodes[0], in, second.nodes[0], out)
	la := at.Sub(first.part[len(first.part)-1].p).Dot(in)
	lb := second.part[0].p.Sub(at).Dot(out)
	if !ok || la <= 0 || lb <= 0 {
		return score
	}
	_, cost := bestFillet(at, in, out, turn, math.Min(la, lb), loose, outlierCost)
	return math.Min(score, first.rss+second.rss+cost+b.price)
}

// lineCrossing is where two lines meet.
func lineCrossing(p, u, q, v geo.XY) (geo.XY, bool) {
	den := u.Cross(v)
	if math.Abs(den) < 1e-9 {
		return geo.XY{}, false
	}
	return p.Add(u.Scale(q.Sub(p).Cross(v) / den)), true
}
