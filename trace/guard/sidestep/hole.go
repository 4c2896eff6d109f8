package sidestep

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/leastsquares"
)

// Courses before and behind a long gap. Judgement.
const (
	// mostHoleM is how long it may be: over more the line itself may well be laid to
	// another side.
	mostHoleM = 60.0
	// Two runs are parallel that turn by no more than sameWay and what their own
	// directions may be off, and lines beside each other lie up to mostBesideM apart.
	sameWay, mostBesideM = 1 * math.Pi / 180, 3.5
	// Over a hole that straight runs of longRun places see across, courses beside each other
	// are leastAcrossM apart and surelySteps of what their directions may be off there; no
	// more than seeAcross lengths of the hole are looked at.
	longRun, leastAcrossM, seeAcross = 6, 0.25, 3.0
)

// OverHole tells whether the runs on both sides of a hole, each from the hole outwards,
// are straight, parallel and apart. Where one bend in the hole joins them, either lies to
// the other side of the other one, carried on; courses beside each other lie to one side
// both ways, and by more than their own directions may be off over that length.
func OverHole(before, after []geo.XY, ownM float64) (Step, bool) {
	return overHole(before, after, 1, ownM, func(sigmaM float64) float64 { return LeastM + 2*sigmaM })
}

// AcrossHole is OverHole for a hole that long straight runs see across: they tell smaller
// steps.
func AcrossHole(before, after []geo.XY, ownM float64) (Step, bool) {
	for _, run := range [][]geo.XY{before, after} {
		if len(run) < longRun {
			return Step{}, false
		}
		s := straightThrough(run[:longRun], ownM)
		if _, off := spread(run[:longRun], s.side); off > looseM(ownM) {
			return Step{}, false
		}
	}
	return overHole(before, after, seeAcross, ownM, func(sigmaM float64) float64 {
		return math.Max(leastAcrossM, surelySteps*math.Hypot(sigmaM, ownM/math.Sqrt(longRun)))
	})
}

// overHole is OverHole for runs of so many lengths of the hole, and steps of what their
// directions may be off there.
func overHole(before, after []geo.XY, lengths, ownM float64, least func(sigmaM float64) float64) (Step, bool) {
	holeM := before[0].Dist(after[0])
	a, okA := straightFrom(before, lengths*holeM, ownM)
	b, okB := straightFrom(after, lengths*holeM, ownM)
	if !okA || !okB || holeM > mostHoleM {
		return Step{}, false
	}
	a.dir = a.dir.Scale(-1) // as the walk goes
	if math.Abs(math.Atan2(a.dir.Cross(b.dir), a.dir.Dot(b.dir))) > sameWay+2*math.Hypot(a.dirSigma, b.dirSigma) {
		return Step{}, false
	}
	end, begin := a.nearest(before[0]), b.nearest(after[0])
	onward, back := a.side(begin), -b.side(end)
	for _, o := range []float64{onward, back} {
		sigmaM := math.Hypot(a.dirSigma*a.mid.Dist(begin), b.dirSigma*b.mid.Dist(end))
		if o*onward < 0 || math.Abs(o) < least(sigmaM) || math.Abs(o) > mostBesideM {
			return Step{}, false
		}
	}
	if math.Abs(back) > math.Abs(onward) {
		onward = back
	}
	return Step{LateralM: onward}, true
}

// straight is the course of a straight run of places.
type straight struct {
	mid, dir geo.XY
	dirSigma float64 // of its direction, radians
}

// side is how far a place lies beside the course, positive to the right.
func (s straight) side(at geo.XY) float64 { return -s.dir.Cross(at.Sub(s.mid)) }

// nearest is the nearest place of the course, carried on.
func (s straight) nearest(at geo.XY) geo.XY { return s.mid.Add(s.dir.Scale(at.Sub(s.mid).Dot(s.dir))) }

// looseM is by how much a place of a straight run may lie off it.
func looseM(ownM float64) float64 { return math.Max(StraightShare*LeastM, OverOwnOff*ownM) }

// straightFrom is the course of the longest straight run from the first of some places, over
// no more than mostM: fewer than RunPlaces are none.
func straightFrom(at []geo.XY, mostM, ownM float64) (best straight, ok bool) {
	loose := looseM(ownM)
	for n := RunPlaces; n <= len(at) && (n == RunPlaces || at[0].Dist(at[n-1]) <= mostM); n++ {
		s := straightThrough(at[:n], ownM)
		if _, off := spread(at[:n], s.side); off > loose {
			break
		}
		best, ok = s, true
	}
	return best, ok
}

// straightThrough is the straight line through places, in the sense of total least
// squares, on the way from the first to the last of them.
func straightThrough(at []geo.XY, ownM float64) straight {
	var s straight
	s.mid, s.dir = leastsquares.Straight(at)
	along := 0.0
	for _, p := range at {
		along += math.Pow(p.Sub(s.mid).Dot(s.dir), 2)
	}
	s.dirSigma = ownM / math.Sqrt(along)
	return s
}
