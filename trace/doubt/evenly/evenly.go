// Package evenly finds positions that were computed from others: readings that lie in the
// middle between their neighbours as closely as the figures can tell, on a walk that
// otherwise scatters.
package evenly

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/doubt"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
	"loamline.example/trace/walkorder"
)

// Positions that were computed from others (judgement, but for the chance).
const (
	leastEvenRun = 3    // readings in the middle of their neighbours, one after another
	leastPlaces  = 6    // readings that are not, so that their scatter is known
	leastStrideM = 0.5  // from one neighbour to the other: who stands still is even too
	evenChance   = 1e-4 // how seldom the walk's own scatter would make such a run anywhere
	// What the figures alone put a place off the middle: well below what a measured walk
	// scatters; at more than fineRoundingM where most of the walk scatters more, at least.
	fineRoundingM, mostRoundingM = 0.005, 0.025
)

// Doubts tells of stretches on which each reading lies in the middle between its
// neighbours as closely as the figures can tell, on a walk that otherwise scatters: those
// positions were computed between two fixes, carried on past one, or filled in by a table,
// and where they lie says nothing of the line.
func Doubts(l *trace.Line) (found []trace.Finding) {
	if l.Centerline == nil {
		return nil
	}
	rs := walkedPlaces(l.Readings)
	even, chance := evenPlaces(rs)
	for from := 0; from < len(even); {
		to := from
		for to < len(even) && even[to] {
			to++
		}
		if n := to - from; n >= leastEvenRun && float64(len(rs))*math.Pow(chance, float64(n)) < evenChance {
			found = append(found, computedStretch(l, rs[from-1:to+1]))
		}
		from = to + 1
	}
	return found
}

// walkedPlaces are the readings that have a place, as they were taken; of several at one
// place in a row the first.
func walkedPlaces(all []trace.Reading) []*trace.Reading {
	var out []*trace.Reading
	for _, r := range walkorder.Taken(all, func(r *trace.Reading) bool { return !r.Exposed && !(r.RaiseM > 0) }) {
		if len(out) == 0 || out[len(out)-1].Pos != r.Pos {
			out = append(out, r)
		}
	}
	return out
}

// evenPlaces marks the readings that lie in the middle between their neighbours, and
// tells how seldom one would by chance, within what the written figures can tell: at the
// scatter that the others show.
func evenPlaces(rs []*trace.Reading) (even []bool, chance float64) {
	even = make([]bool, len(rs))
	if len(rs) < leastPlaces {
		return even, 1
	}
	step := rounding.Of(rs)
	var e, n axisOff
	for i := 1; i+1 < len(rs); i++ {
		a, b := rs[i-1].Pos, rs[i+1].Pos
		off := a.Add(b).Sub(rs[i].Pos.Scale(2))
		// Half a step for either neighbour and a whole one for the place, twice.
		evenE, evenN := e.even(off.X, 2*step.EastM), n.even(off.Y, 2*step.NorthM)
		if even[i] = evenE && evenN && a.Dist(b) >= leastStrideM; evenE && evenN {
			continue
		}
		e.count(math.Abs(off.X), evenE, evenN)
		n.count(math.Abs(off.Y), evenN, evenE)
	}
	// Figures as coarse as a walk scatters make it even by themselves, all but its corners.
	roundedM, evens := math.Max(e.roundingM, n.roundingM), len(rs)-2-len(e.offM)
	if roundedM > mostRoundingM || roundedM > fineRoundingM && evens > len(e.offM) {
		return even, 1
	}
	return even, e.chance() * n.chance()
}

// axisOff is how far readings that do not lie in the middle between their neighbours are
// off it, in one direction.
type axisOff struct {
	roundingM           float64 // the most that the figures alone make
	offM                []float64
	evenHere, elsewhere int // even in this direction, of those that are not in the other
}

func (a *axisOff) even(offM, roundingM float64) bool {
	roundingM = math.Max(roundingM, 2*finestFigureM)
	a.roundingM = math.Max(a.roundingM, roundingM)
	return math.Abs(offM) <= roundingM
}

func (a *axisOff) count(offM float64, here, there bool) {
	a.offM = append(a.offM, offM)
	if !there {
		a.elsewhere++
		if here {
			a.evenHere++
		}
	}
}

// chance is how often a reading would be even in this direction by itself: as the scatter
// has it, or as often as those are that are not even in the other, for figures may lie on a
// grid that nothing told of.
func (a *axisOff) chance() float64 {
	if len(a.offM) < leastPlaces || a.elsewhere == 0 {
		return 1
	}
	sigma := ranked.NormalSigma * ranked.Median(a.offM)
	return math.Max(math.Erf(a.roundingM/sigma/math.Sqrt2), float64(a.evenHere)/float64(a.elsewhere))
}

// finestFigureM is what positions without a step of their own are taken to be written to.
// Judgement.
const finestFigureM = 0.001

// computedStretch is the doubt about readings whose places were computed, from the last
// measured one before them to the first behind.
func computedStretch(l *trace.Line, rs []*trace.Reading) trace.Finding {
	return doubt.Over(l, rs, rs, remark.PositionsComputed{N: len(rs) - 2, FromRow: rs[1].Row, ToRow: rs[len(rs)-2].Row})
}
