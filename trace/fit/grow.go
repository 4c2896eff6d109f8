package fit

import "math"

// grown is one straight and one bent piece so far, as they grow from a candidate break on. A
// misfit is infinite where there is no piece.
type grown struct {
	straightMisfit, bentMisfit float64
	straight, bent             leftOut
	n                          int32 // samples that the straight one holds
}

func (g *grown) straightCost(outlierCost float64) float64 {
	return g.straightMisfit + g.straight.price(outlierCost)
}
func (g *grown) bentCost(outlierCost float64) float64 {
	return g.bentMisfit + g.bent.price(outlierCost)
}

// lost tells pieces that have lost the readings.
func (g *grown) lost() bool {
	return g.straight.inARow > maxOutliersInARow && g.bent.inARow > maxOutliersInARow
}

// hopelessPrices is how many parameters dearer than a misfit of two a sample pieces are
// that no later sample makes good. Judgement: far above what any piece of a line that is
// chosen costs, so that it saves time alone.
const hopelessPrices = 60

// hopeless tells pieces that are far too dear to be of any use, now or longer.
func (g *grown) hopeless(price float64) bool {
	limit, outlierCost := hopelessPrices*price+2*float64(g.n), outlierParams*price
	return g.n >= 4 && g.straightCost(outlierCost) > limit && g.bentCost(outlierCost) > limit
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
	line, bend := newPiece(skip, x.nearM), newPiece(skip, x.nearM)
	last := min((len(s)+x.stride-1)/x.stride, i+x.reach)
	if s[x.at(i)].suspect && x.at(i+1)-x.at(i) == 1 {
		last = i
	}
	origin, outlierCost := s[x.at(i)].p, outlierParams*price
	var straight, bent lineFit // of either piece
	var c circle
	var cost float64
	circular, same := false, true // same: both hold the same samples
	for k := i + 1; k <= last; k++ {
		for j := x.at(k - 1); j < x.at(k); j++ {
			p, wt := s[j].p.Sub(origin), s[j].wt
			off, round := 0.0, 0.0
			if line.m.n >= 3 {
				off = straight.misfit(p, wt)
			}
			switch {
			case bend.m.n < leastBent:
			case circular && c.radius <= straightRadiusM:
				round = c.misfit(p, wt)
			case same:
				round = off
			default:
				round = bent.misfit(p, wt)
			}
			included := line.include(s[j], p, off, outlierCost)
			if included && line.m.n >= 3 {
				straight = line.m.lineFit()
			}
			bends := bend.include(s[j], p, round, outlierCost)
			same = same && included == bends
			if !bends || bend.m.n < leastInArc {
				continue
			}
			if c, cost, circular = bend.m.arc(); !same && !(circular && c.radius <= straightRadiusM) {
				bent = bend.m.lineFit()
			}
		}
		now := grown{straightMisfit: math.Inf(1), bentMisfit: math.Inf(1), straight: line.left, bent: bend.left, n: int32(line.m.n)}
		if line.m.n >= 3 {
			now.straightMisfit = straight.cost
		}
		if bend.m.n >= leastInArc && circular && c.radius >= minRadiusM && c.radius <= maxRadiusM {
			now.bentMisfit = cost
		}
		into = append(into, now)
		if now.lost() || now.hopeless(price) {
			break
		}
	}
	return into
}
