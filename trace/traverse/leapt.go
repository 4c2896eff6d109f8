package traverse

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/walkorder"
)

// When places have leapt together. Judgement.
const (
	// leapReadings is the longest run of places that may have leapt together, and
	// leapShare the largest share of a walk: more is no exception.
	leapReadings = 15
	leapShare    = 1.0 / 3
	// leastRunOffM is from where a run of places lies farther aside than lines in one
	// street do: nearer, the receiver may have gone over to a neighbour, which is a
	// question of the signal.
	leastRunOffM = 3.0
	// ownErrors of a place's own error a run must lie aside.
	ownErrors = 6.0
	// A walk whose strides spread more than this (one sigma of their logarithm) says
	// nothing about the way between two places; leastWalk places are too few for it.
	mostSpread, leastSpread = 0.35, 0.05
	leastWalk               = 12
	// A run lies parallel to the way on: within this share of how far it is aside; and
	// the walk before and after it, on the way on within onWayShare.
	runShare, onWayShare = 0.35, 0.15
	// bendShare of how far a run lies aside is the way that the flattest usual offset
	// takes more than the straight one; derived: two bends of 45° and two back, 2(√2-1).
	bendShare = 0.83
	// surelySteps is by how many sigma the strides must tell that way from none.
	surelySteps = 2.0
)

// Run is a run of neighbouring readings, by their indices, that lie aside of the
// walk together.
type Run struct {
	Members []int
	OffM    float64
}

// LeaptRuns finds runs of neighbouring places that leapt together, as a receiver
// does that fixes its ambiguities wrongly for a while. The walk leaves a straight
// way for them and comes back to it, and took no more strides for that than the
// straight way needs; to walk an offset of the line takes more. Where the strides
// are too uneven to tell, there is none.
func LeaptRuns(rs []trace.Reading, take func(*trace.Reading) bool, ownM func(*trace.Reading) float64) []Run {
	order, walked := walkorder.Travel(rs)
	if !walked {
		return nil
	}
	var walk []int
	for _, i := range order {
		if rs[i].Placed() && take(&rs[i]) {
			walk = append(walk, i)
		}
	}
	ss := stands(rs, walk, Errors{OwnM: ownM})
	if len(ss) < leastWalk {
		return nil
	}
	usualStepM := medianStep(ss)
	spread := stepSpread(ss, usualStepM)
	if usualStepM == 0 || spread > mostSpread {
		return nil
	}
	var out []Run
	longest := min(leapReadings, int(leapShare*float64(len(ss))))
	for a := 1; a < len(ss); a++ {
		for k := 2; k <= longest && a+k+2 < len(ss); k++ {
			offM, ok := leapt(ss, a, a+k+1, usualStepM, spread)
			if !ok {
				continue
			}
			run := Run{OffM: offM}
			for _, s := range ss[a+1 : a+k+1] {
				run.Members = append(run.Members, s.members...)
			}
			out = append(out, run)
			a += k
			break
		}
	}
	return out
}

// stepSpread is one sigma of the strides' logarithm, robustly.
func stepSpread(ss []stand, usualStepM float64) float64 {
	var d []float64
	for k := 1; k < len(ss); k++ {
		d = append(d, math.Abs(math.Log(ss[k].pos.Dist(ss[k-1].pos)/usualStepM)))
	}
	return math.Max(leastSpread, ranked.NormalSigma*ranked.Median(d))
}

// leapt tells whether the places between two of the walk leapt, and how far.
func leapt(ss []stand, before, after int, usualStepM, spread float64) (float64, bool) {
	a, b := ss[before].pos, ss[after].pos
	way := b.Sub(a)
	wayM := way.Norm()
	if wayM == 0 {
		return 0, false
	}
	side := func(p geo.XY) float64 { return way.Cross(p.Sub(a)) / wayM }
	off, own := 0.0, 0.0
	run := ss[before+1 : after]
	for _, s := range run {
		off += side(s.pos) / float64(len(run))
		own = max(own, s.ownM)
	}
	offM := math.Abs(off)
	if offM < math.Max(leastRunOffM, ownErrors*own) {
		return 0, false
	}
	for _, s := range run {
		if math.Abs(side(s.pos)-off) > runShare*offM {
			return 0, false
		}
	}
	for _, k := range []int{before - 1, before - 2, after + 1, after + 2} {
		if k >= 0 && k < len(ss) && math.Abs(side(ss[k].pos)) > onWayShare*offM {
			return 0, false
		}
	}
	n := float64(after - before)
	more := bendShare * offM
	if more < surelySteps*spread*usualStepM*math.Sqrt(n) || wayM < n*usualStepM-more/2 {
		return 0, false
	}
	return offM, true
}
