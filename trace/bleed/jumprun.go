package bleed

import "math"

// jumpRun is what speaks for and against a jump over readings [from, to], in
// nats.
type jumpRun struct {
	from, to       int
	asideM, sigmaM float64 // own course from the marks, positive to the right; 0 where they do not part
	record         float64 // the neighbour may be an old drawing of the line itself
	leaves         float64 // the marks leave the line's own course
	lies           float64 // they lie where another line does
	steps          float64 // depth and current change as they would
	phase          float64
}

// weigh weighs one run; false where the marks do not leave the line's own
// course for the neighbour's.
func (m meeting) weigh(own carried, from, to int) (jumpRun, bool) {
	r := jumpRun{from: from, to: to}
	var z float64
	r.asideM, r.sigmaM, z = m.leaving(own, from, to)
	beside, ok := m.parts(from, to)
	if z == 0 || !ok {
		return r, false
	}
	most := float64(swerveNats)
	if own.bothSides {
		most += backNats
	}
	r.leaves = max(unsureNats, min(most, z*z/2-2))
	if !own.before {
		r.leaves += startNats
	}
	r.lies = m.coincidence(from, to)
	r.steps = m.steps(own, from, to)
	r.phase = m.col.phaseOdds(from, to)
	r.leaves -= besideNats * float64(beside)
	if m.mayBeOwn {
		r.record = ownRecordNats
	}
	return r, true
}

// parts reports on how many sides of a run the neighbour surely lies no farther
// off than within it. A line that has run beside it all along, through bends and
// all, has not jumped.
func (m meeting) parts(from, to int) (beside int, ok bool) {
	var in []float64
	sigma := 0.0
	for k := from; k <= to; k++ {
		if a := math.Abs(m.at[k].asideM); !math.IsNaN(a) {
			in, sigma = append(in, a), max(sigma, m.at[k].sigmaM)
		}
	}
	if len(in) == 0 {
		return 0, false
	}
	apart := median(in) + max(leastPartM, 2*sigma)
	before, sureBefore := m.partsAt(from-1, -1, apart)
	after, sureAfter := m.partsAt(to+1, 1, apart)
	for _, side := range [][2]bool{{before, sureBefore}, {after, sureAfter}} {
		if !side[0] && side[1] {
			beside++
		}
	}
	return beside, before || after
}

// partsAt looks from reading k outward for a place where the two lines are
// apart. It is not sure where the readings or the neighbour's path end.
func (m meeting) partsAt(k, step int, apartM float64) (parts, sure bool) {
	edge, n := m.col.rd[k-step], 0
	ended := min(edge.Pos.Dist(m.ends[0]), edge.Pos.Dist(m.ends[1])) < endReachM
	for ; k >= 0 && k < len(m.on) && math.Abs(m.col.rd[k].StationM-edge.StationM) < partReachM; k += step {
		a := math.Abs(m.at[k].asideM)
		switch {
		case a > apartM || math.IsNaN(a) && !ended:
			return true, true
		case !math.IsNaN(a):
			n++
		}
	}
	return false, n >= 3
}

// leastPartM is by how much two lines must part within partReachM of a run, in
// metres. Judgement.
const (
	leastPartM = 0.6
	partReachM = 25
	besideNats = 4 // against a jump, for a side on which the two lines do not part
	endReachM  = 8 // of the end of the neighbour's path: where it goes on, nobody knows
)

// leaving returns how far the own course lies from the marks where that is
// clearest, with its error and how many sigma that is; 0 where the two do not
// part.
func (m meeting) leaving(c carried, from, to int) (asideM, sigmaM, z float64) {
	var aside, sigma, reach []float64
	for k := from; k <= to; k++ {
		a, s := c.beside(m.col.rd[k].Pos)
		if c.before {
			reach = append(reach, m.lengthM(from, k))
		} else {
			reach = append(reach, m.lengthM(k, to))
		}
		aside, sigma = append(aside, a), append(sigma, math.Hypot(s, positionSigma(m.col.rd[k])))
	}
	for i := 1; i+1 < len(aside); i++ {
		a := median([]float64{aside[i-1], aside[i], aside[i+1]})
		// Where both courses are within reach, the marks may be of either.
		if math.Abs(a) < max(leastAsideM, leavingSigmas*m.on[from+i].sigmaM) || !c.bothSides && reach[i] > surelyM {
			continue
		}
		if zi := math.Abs(a) / sigma[i]; zi > z {
			asideM, sigmaM, z = a, sigma[i], zi
		}
	}
	return asideM, sigmaM, z
}

// ownRecordNats is what a record of the line's own kind of utility says against
// a jump: it may well be an old drawing of the line itself, wrong in places.
// Judgement.
const ownRecordNats = -2

// surelyM is how far a line's own course is carried on from one side with some
// trust. Judgement.
const surelyM = 30

// What a jump's odds are made of, in nats. Judgement: of lines that meet
// another, one in some hundred swerves from its course by more than its error;
// one in some ten of those comes back to where it would have gone.
const (
	swerveNats    = 5
	backNats      = 2
	unsureNats    = -0.5 // where the own course is not known well enough
	startNats     = -1.5 // a trace begins where its line was found
	leastJumpOdds = -5.5
)

// leastNats is the least that one of several signs may say against a jump: its model may
// be wrong. Judgement.
const leastNats = -6

// leavingSigmas is by how many errors of marks on the neighbour the own course must lie
// from them to be another, beside leastAsideM. Judgement.
const leavingSigmas = 1.5

// Of lines that come near another, trenchPart share its trench, and the others lie
// anywhere over a width of nearbyM; leastLiesM is the least error of the marks of a run
// taken together, a little less than leastOnM of each. Judgement.
const (
	trenchPart = 0.3
	nearbyM    = 6
	leastLiesM = 0.04
)

// coincidence is the log ratio of lying on the neighbour by a jump against
// doing so by being laid there: three lines in ten that come near another are
// taken to share its trench, within half a metre, the others to lie anywhere
// within three metres. Judgement.
func (m meeting) coincidence(from, to int) float64 {
	var aside, sigma []float64
	for k := from; k <= to; k++ {
		if a := m.at[k].asideM; !math.IsNaN(a) {
			aside, sigma = append(aside, a), append(sigma, m.on[k].sigmaM)
		}
	}
	if len(aside) == 0 {
		return 0
	}
	off := math.Abs(median(aside))
	laid := (1 - trenchPart) / nearbyM
	if off < 0.5 {
		laid += trenchPart // over the metre from half a metre on one side to that on the other
	}
	return max(leastNats, math.Log(normal(off, max(leastLiesM, median(sigma))))-math.Log(laid))
}

// What the current's direction says, in nats: reversed on a run against up to
// phaseReadings on each side it is seldom by chance, and a jump onto a line that carries
// current the same way is a little less likely than none. Judgement.
const (
	phaseReadings = 12
	reversedNats  = 3.5
	alikeNats     = -0.6
)

// phaseOdds is what the current's direction says for a jump: reversed on the
// run and not about it speaks for one.
func (c *columns) phaseOdds(from, to int) float64 {
	in, out, nIn, nOut := 0, 0, 0, 0
	for k, r := range c.rd {
		if r.Phase == 0 {
			continue
		}
		if k >= from && k <= to {
			nIn++
			if r.Phase < 0 {
				in++
			}
		} else if k > from-phaseReadings && k < to+phaseReadings {
			nOut++
			if r.Phase < 0 {
				out++
			}
		}
	}
	switch {
	case nIn < 2 || nOut < 2:
		return 0
	case 2*in > nIn != (2*out > nOut):
		return reversedNats
	}
	return alikeNats
}

// jumpPrior is how often a trace that meets a neighbour jumps onto it.
// Judgement.
const jumpPrior = 0.03
