// Package outandback tells where a walk leaves its course for a few places and takes it up
// again where it left off: what lies before and behind them is one course, and they lie beside.
//
// It sees places alone, in travel order, and what one of them may be off. Positions that leap
// for a while look like that, and so does a line that is led round something, or a receiver
// that went over to another line and back. Which of them it is, and what a map says of it, is
// not asked here.
package outandback

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/guard/sidestep"
)

// What tells that places lie beside a straight course. Judgement.
const (
	// leastBeside to mostBeside places lie beside it, and around on either side show it, with those
	// over a way as long as they lie aside and wayOverOwn times a place's own error: fewer
	// of them tell no direction.
	leastBeside, mostBeside = 3, 14
	around                  = 3
	wayOverOwn              = 20.0
	// asideOverOwn is how many times a place's own error they lie aside at the least.
	asideOverOwn = 5.0
	// together is how near the nearest of them is to the course, of the farthest, and how much
	// of that one stride goes over: with less the walk goes out and back on a way that it was
	// read on. Between them no stride goes aside by more than alike of what those go over:
	// the crest of a line that winds is rounder.
	together, alike = 0.5, 0.25
	// offCourse is how far off the course one of those around may lie, of how far aside the
	// nearest is, and over the way between them: of two runs that go on beside each other
	// each slants across the line through both, and little where they are short.
	offCourse = 0.15
)

// Straight is a run of places beside a straight course.
type Straight struct {
	Before, After int     // the last place before them and the first behind
	FarthestM     float64 // how far aside they lie
}

// Leaves tells whether the walk leaves a straight course behind a place and takes it up again
// within mostBeside others, the soonest. A line that is led round something by corners was
// read between them, but where a stride is longer than the way.
func Leaves(at []geo.XY, before int, ownM float64) (Straight, bool) {
	if before+1 < around {
		return Straight{}, false
	}
	for after := before + 1 + leastBeside; after+around <= len(at) && after-before-1 <= mostBeside; after++ {
		if s, ok := beside(at, before, after, ownM); ok {
			return s, true
		}
	}
	return Straight{}, false
}

// beside tells whether all places between two lie to one side of the straight course that
// those around them show.
func beside(at []geo.XY, before, after int, ownM float64) (Straight, bool) {
	from, to := before+1-around, after+around
	leastM := max(sidestep.LeastM, asideOverOwn*ownM)
	s, ok := offsets(at[from:before+1], at[after:to], at[before+1:after], leastM)
	if !ok || !s.together(leastM) {
		return Straight{}, false
	}
	wayM := max(s.nearM, wayOverOwn*ownM)
	for from > 0 && at[from].Dist(at[before]) < wayM {
		from--
	}
	for to < len(at) && at[to-1].Dist(at[after]) < wayM {
		to++
	}
	if min(at[from].Dist(at[before]), at[to-1].Dist(at[after])) < wayM {
		return Straight{}, false
	}
	s, ok = offsets(at[from:before+1], at[after:to], at[before+1:after], leastM)
	if !ok || !s.together(leastM) || s.courseM > max(sidestep.OverOwnOff*ownM, offCourse*s.nearM*s.share) ||
		s.alongM > ownM+alike*s.overM {
		return Straight{}, false
	}
	return Straight{before, after, s.farM}, true
}

// sides are how far places lie off the course that those around them show.
type sides struct {
	meanM, nearM, farM float64 // of those beside
	overM              float64 // what the shorter of the strides out and back goes over
	alongM             float64 // the most that a stride between them goes aside
	courseM            float64 // farthest of those around
	share              float64 // the shorter run of those, of the way from one to the other
}

// together tells whether places lie aside together, and are gone over to at once.
func (s sides) together(leastM float64) bool {
	return s.meanM >= leastM && s.nearM >= together*s.farM && s.overM >= together*s.farM
}

// offsets holds places to the straight line through the middles of those before and
// those behind; false where these do not go along it, or those beside do not all lie to one
// side of it, or the first of them is too near it for a mean of leastM.
func offsets(before, behind, beside []geo.XY, leastM float64) (s sides, ok bool) {
	a, b := middle(before), middle(behind)
	dir := b.Sub(a)
	apartM := dir.Norm()
	if apartM == 0 {
		return sides{}, false
	}
	dir = dir.Scale(1 / apartM)
	side := func(p geo.XY) float64 { return -dir.Cross(p.Sub(a)) }
	first := side(beside[0])
	if math.Abs(first) < together*leastM {
		return sides{}, false // most places: soon told
	}
	left, back := before[len(before)-1], behind[0]
	s.share = min(1, min(left.Dist(before[0]), back.Dist(behind[len(behind)-1]))/apartM)
	for _, way := range []geo.XY{left.Sub(before[0]), back.Sub(left), behind[len(behind)-1].Sub(back)} {
		if dir.Dot(way) <= 0 {
			return sides{}, false
		}
	}
	s.nearM = math.Inf(1)
	last := first
	for _, p := range beside {
		x := side(p)
		if !(x*first > 0) {
			return sides{}, false // not all to one side
		}
		s.alongM = max(s.alongM, math.Abs(x-last))
		last = x
		s.nearM, s.farM, s.meanM = min(s.nearM, math.Abs(x)), max(s.farM, math.Abs(x)), s.meanM+math.Abs(x)/float64(len(beside))
	}
	s.overM = min(math.Abs(first-side(left)), math.Abs(last-side(back)))
	for _, run := range [2][]geo.XY{before, behind} { // asked of every place of a walk: no memory
		for _, p := range run {
			s.courseM = max(s.courseM, math.Abs(side(p)))
		}
	}
	return s, true
}

// Sideways is how far the middle one of three strides goes aside of the mean way of
// the others, positive to the right.
func Sideways(ps []geo.XY) float64 {
	p, q := ps[1].Sub(ps[0]), ps[3].Sub(ps[2])
	pM, qM := p.Norm(), q.Norm()
	if pM == 0 || qM == 0 {
		return 0
	}
	dir := p.Scale(1 / pM).Add(q.Scale(1 / qM))
	dirM := dir.Norm()
	if dirM == 0 {
		return 0
	}
	return -dir.Scale(1 / dirM).Cross(ps[2].Sub(ps[1]))
}

func middle(ps []geo.XY) (m geo.XY) {
	part := 1 / float64(len(ps))
	for _, p := range ps {
		m = m.Add(p.Scale(part))
	}
	return m
}
