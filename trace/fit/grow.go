package fit

import "math"

// growths are how the pieces of one segmentation grew from each of its candidate
// breaks on. Most of what is tried against a shape leaves most of a line as it is,
// and the pieces there grow as they did.
type growths struct {
	samples       []sample
	of            []grownOf // the samples, as they were
	stride, reach int
	nearM         float64
	from          [][3]*growth // by the candidate and what is skipped
	room          growth       // of the piece under way
	kept          []grown      // steps of those that are kept, and room for more
	before        *growths
	head, tail    int     // samples that are the same as before, from either end
	heavier       float64 // by how much they weigh more now: a power of two, by which misfits scale to the last bit
}

// grownOf is all of a sample that pieces see, where the walk is the same.
type grownOf struct {
	index   int32
	suspect bool
	wt      float64
}

// growth is one straight and one bent piece, at the end of each candidate.
type growth struct {
	steps              []grown
	heavier            float64 // by how much the samples weigh more than when it grew
	outliers, suspects limits  // by which the same samples are held
	ended              bool    // all that there is, or the pieces have lost the readings
}

// grown is the two pieces so far. A misfit is infinite where there is no piece.
type grown struct {
	straightMisfit, bentMisfit float64
	straight, bent             leftOut
	n                          int32 // samples that the straight one holds
}

func (g *grown) straightCost(heavier, outlierCost float64) float64 {
	return heavier*g.straightMisfit + g.straight.price(outlierCost)
}
func (g *grown) bentCost(heavier, outlierCost float64) float64 {
	return heavier*g.bentMisfit + g.bent.price(outlierCost)
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
func (g *grown) hopeless(heavier, price float64) bool {
	limit, outlierCost := hopelessPrices*price+2*float64(g.n), outlierParams*price
	return g.n >= 4 && g.straightCost(heavier, outlierCost) > limit && g.bentCost(heavier, outlierCost) > limit
}

// mostGrown is the number of samples of which growths are kept. Judgement: memory.
const mostGrown = 5000

func newGrowths(s []sample, stride, reach int, nearM float64, before *growths) *growths {
	x := &growths{samples: s, stride: stride, reach: reach, nearM: nearM}
	n := len(s)
	if n > mostGrown {
		return x
	}
	x.of = make([]grownOf, n)
	for i, q := range s {
		x.of[i] = grownOf{q.index, q.suspect, q.wt}
	}
	x.from = make([][3]*growth, (n+stride-1)/stride)
	if before == nil || before.stride != stride || before.nearM != nearM {
		return x
	}
	x.before, x.heavier = before, heavier(x.of, before.of)
	now := func(q grownOf) grownOf { return grownOf{q.index, q.suspect, q.wt * x.heavier} }
	for x.head < min(n, len(before.of)) && x.of[x.head] == now(before.of[x.head]) {
		x.head++
	}
	for x.tail < min(n, len(before.of)) && x.of[n-1-x.tail] == now(before.of[len(before.of)-1-x.tail]) {
		x.tail++
	}
	return x
}

// heavier is by how much samples weigh more than others did, as the first of them do,
// where that is a power of two, else 1.
func heavier(of, before []grownOf) float64 {
	if len(of) > 0 && len(before) > 0 {
		by := of[0].wt / before[0].wt
		if frac, _ := math.Frexp(by); frac == 0.5 { // derived: of a power of two
			return by
		}
	}
	return 1
}

// done is what may be of use another time.
func (x *growths) done() *growths {
	x.samples, x.before, x.room, x.kept = nil, nil, growth{}, nil
	if x.from == nil {
		return nil
	}
	return x
}

func (x *growths) at(k int) int { return min(k*x.stride, len(x.samples)) }

// ends is where a growth that began at a candidate ends.
func (x *growths) ends(i int, g *growth) int { return min((i+len(g.steps))*x.stride, len(x.of)) }

// pieces returns the pieces that start at candidate i and end at each later one,
// as far as they are of use, and by how much their samples weigh more than when they grew.
func (x *growths) pieces(i int, skip int8, price float64) ([]grown, float64) {
	g := x.known(i, skip)
	if g != nil && g.outliers.hold(outlierParams*price/x.heavier) && g.suspects.hold(suspectFits/x.heavier) {
		g = x.weighed(g)
		for k := range g.steps {
			if g.steps[k].hopeless(g.heavier, price) {
				x.from[i][skip] = g
				return g.steps[:k+1], g.heavier
			}
		}
		if g.ended {
			x.from[i][skip] = g
			return g.steps, g.heavier
		}
	}
	if x.from == nil {
		x.room.steps = x.room.steps[:0]
		x.grow(i, skip, price)
		return x.room.steps, 1
	}
	if cap(x.kept)-len(x.kept) < min(usualSteps, len(x.from)-i) {
		x.kept = make([]grown, 0, min(max(2*cap(x.kept), 2*usualSteps), keptTogether))
	}
	x.room.steps = x.kept[len(x.kept):]
	x.grow(i, skip, price)
	own := x.room
	n := len(own.steps)
	if own.steps = own.steps[:n:n]; n <= cap(x.kept)-len(x.kept) { // else they have moved
		x.kept = x.kept[:len(x.kept)+n]
	}
	x.from[i][skip] = &own
	return own.steps, 1
}

// keptTogether is how many steps are given room at once at most, for growths are many
// and short: usualSteps or fewer. The first have less, for the most of what is tried
// leaves few of them to grow anew. Judgement: memory.
const keptTogether, usualSteps = 2048, 128

// weighed is a growth of before by what its samples weigh now.
func (x *growths) weighed(g *growth) *growth {
	if x.heavier == 1 {
		return g
	}
	return &growth{g.steps, g.heavier * x.heavier, g.outliers.times(x.heavier), g.suspects.times(x.heavier), g.ended}
}

// known is the growth of a piece before, nil where its samples were others.
func (x *growths) known(i int, skip int8) *growth {
	if x.before == nil {
		return nil
	}
	from := x.at(i)
	if from >= len(x.of)-x.tail {
		if was := from + len(x.before.of) - len(x.of); was%x.stride == 0 {
			return x.before.from[was/x.stride][skip]
		}
	}
	if from < x.head {
		// What came to the end of all samples would go on where there are more.
		if g := x.before.from[i][skip]; g != nil && x.before.ends(i, g) < min(x.head+1, len(x.before.of)) {
			return g
		}
	}
	return nil
}

// grow lets the pieces grow from a candidate into the room for it, which is empty.
func (x *growths) grow(i int, skip int8, price float64) {
	s := x.samples
	g := &x.room
	g.heavier, g.ended = 1, true
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
		g.steps = append(g.steps, now)
		if now.lost() {
			break
		}
		if now.hopeless(g.heavier, price) {
			g.ended = false
			break
		}
	}
	g.outliers, g.suspects = line.outliers.both(bend.outliers), line.suspects.both(bend.suspects)
}
