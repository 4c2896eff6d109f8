package fit

import (
	"math"

	"loamline.example/geo"
)

// grown is what one straight and one bent piece cost so far, with the samples that they leave
// out, as they grow from a candidate break on. A cost is infinite where there is no piece.
type grown struct {
	straight, bent         float64
	straightHeld, bentHeld bool // the last sample is in
}

// hopelessPrices is how many parameters dearer than a misfit of two a sample pieces are
// that no later sample makes good. Judgement: far above what any piece of a line that is
// chosen costs, so that it saves time alone.
const hopelessPrices = 60

// hopeless tells pieces that are far too dear to be of any use, now or longer, where the
// straight one holds n samples.
func (g *grown) hopeless(n int, price float64) bool {
	limit := hopelessPrices*price + 2*float64(n)
	return n >= 4 && g.straight > limit && g.bent > limit
}

// cut is the samples of a line, with the candidate breaks between them.
type cut struct {
	samples       []sample
	stride, reach int // samples from one candidate to the next, and candidates that a piece may span
	nearM         float64
}

func (x *cut) at(k int) int { return min(k*x.stride, len(x.samples)) }

// grow lets the pieces grow from a candidate, and appends how they stand at each later one, as
// far as they are of use.
func (x *cut) grow(into []grown, i int, skip int8, price float64) []grown {
	s := x.samples
	last := min((len(s)+x.stride-1)/x.stride, i+x.reach)
	if s[x.at(i)].suspect && x.at(i+1)-x.at(i) == 1 {
		last = i
	}
	origin := s[x.at(i)].p
	g := growing{line: newPiece(skip, x.nearM), alike: true, outlierCost: outlierParams * price}
	from := x.at(i)
	for k := i + 1; k <= last; k++ {
		to := x.at(k)
		for _, q := range s[from:to] {
			g.offer(q, q.p.Sub(origin))
		}
		from = to
		into = append(into, grown{})
		now := &into[len(into)-1]
		g.stand(now)
		if g.line.lost() && g.bend().lost() || now.hopeless(g.line.m.n, price) {
			break
		}
	}
	return into
}

// growing is a straight and a bent piece as they grow.
type growing struct {
	line, parted   piece // the straight one, and the bent one where it is not alike
	alike          bool  // both hold the same samples
	straight, bent lineFit
	circle         circle
	circleCost     float64
	circular       bool
	outlierCost    float64
}

// bend is the bent piece.
func (g *growing) bend() *piece {
	if g.alike {
		return &g.line
	}
	return &g.parted
}

// offer adds a sample, p from the first one, to the pieces that hold it.
func (g *growing) offer(q sample, p geo.XY) {
	off, round := g.misfits(q, p)
	if g.alike && off != round {
		g.parted = g.line // perhaps here
	}
	included := g.line.takes(q, off, g.outlierCost)
	bends := included
	if !g.alike || off != round {
		bends = g.parted.takes(q, round, g.outlierCost)
	}
	g.alike = g.alike && included == bends
	if included {
		if g.line.m.add(p, q.wt); g.line.m.n >= 3 {
			g.straight.fit(&g.line.m)
		}
	}
	if !bends {
		return
	}
	if !g.alike {
		g.parted.m.add(p, q.wt)
	}
	if m := &g.bend().m; m.n >= leastInArc {
		if g.circle, g.circleCost, g.circular = m.arc(); !g.alike && !g.round() {
			g.bent.fit(m)
		}
	}
}

// round tells a bent piece that is no straight line.
func (g *growing) round() bool { return g.circular && g.circle.radius <= straightRadiusM }

// misfits are the squared distances of a sample from either piece over their variances; 0
// where it surely fits, for only of a suspect more is asked.
func (g *growing) misfits(q sample, p geo.XY) (off, round float64) {
	if g.line.m.n >= 3 && (q.suspect || !g.straight.surelyWithin(p, q.wt, g.outlierCost)) {
		off = g.straight.misfit(p, q.wt)
	}
	switch {
	case g.bend().m.n < leastBent:
	case g.round():
		if q.suspect || !g.circle.surelyWithin(p, q.wt, g.outlierCost) {
			round = g.circle.misfit(p, q.wt)
		}
	case g.alike:
		round = off
	default:
		round = g.bent.misfit(p, q.wt)
	}
	return off, round
}

// stand tells how the pieces stand.
func (g *growing) stand(now *grown) {
	*now = grown{math.Inf(1), math.Inf(1), g.line.left.inARow == 0, g.bend().left.inARow == 0}
	if g.line.m.n >= 3 {
		now.straight = g.straight.cost + g.line.left.price(g.outlierCost)
	}
	if g.circular && g.circle.radius >= minRadiusM && g.circle.radius <= maxRadiusM {
		now.bent = g.circleCost + g.bend().left.price(g.outlierCost)
	}
}
