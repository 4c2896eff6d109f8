package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// An exposed depth is taken as measured from the ground over the traced line to its
// centre. People measure to the top of a main as well, and from ground that was cut or
// filled before: one figure then moves the depths of a whole line. What such a mistake
// would make is weighed against the receiver's published error by how likely either makes
// the depths measured (likelihood ratio): where the mistake is as likely, the band holds
// both, and where it is likelier by far, that is told.
const (
	otherHeld = 1.0 // as likely
	otherTold = 3.0 // of one crew in four that would do so: likelier than not. Judgement
	// otherGroundM is by how much the ground over a place that was opened may have been cut
	// or filled, one sigma. Common practice, no source: a blade of topsoil or a course of
	// paving, 0.2 to 0.4 m.
	otherGroundM = 0.3
)

// otherDepths is what the depths of a line are if its exposed ones are not what they are
// taken for.
type otherDepths struct {
	lnScale, variance float64 // as of depthScale
	told              bool
}

// otherwise finds what else the exposed depths of a line may have been measured to, and
// tells it where it is likelier by far; false where nothing else is as likely. odd are
// places that the others contradict.
func (k *lineErrors) otherwise(l *trace.Line, places []exposedPlace, odd []bool) (otherDepths, bool) {
	var taken, top []exposedPlace
	half := l.Setup.DiameterM / 2
	for i, p := range places {
		if !trace.Known(p.lnDepth) || odd[i] {
			continue
		}
		taken = append(taken, p)
		p.lnDepth -= math.Log1p(half / p.r.DepthM)
		top = append(top, p)
	}
	if len(taken) == 0 {
		return otherDepths{}, false
	}
	first := taken[0]
	asTaken := minusTwoLn(taken, sq(receiver.DepthScaleRel))
	if half > 0 && explained(top) {
		if odds := math.Exp(0.5 * (asTaken - minusTwoLn(top, sq(receiver.DepthScaleRel)))); odds >= otherHeld {
			o := otherDepths{told: odds >= otherTold}
			o.lnScale, o.variance, _, _ = depthScale(top)
			if o.told {
				k.tell(l, first.e.StationM, trace.AdviseExposed, remark.ExposedToTop{MeasuredM: first.r.DepthM, ReadM: first.e.DepthM, HalfM: half})
			}
			l.Centerline.Notes = append(l.Centerline.Notes, remark.DepthsToTop{HalfM: half})
			return o, true
		}
	}
	if len(taken) > 1 || !explained(taken) {
		return otherDepths{}, false // what several agree on is the receiver's, and what it cannot be is told
	}
	cut := sq(receiver.DepthScaleRel) + sq(otherGroundM/first.r.DepthM)
	odds := math.Exp(0.5 * (asTaken - minusTwoLn(taken, cut)))
	if odds < otherHeld {
		return otherDepths{}, false
	}
	o := otherDepths{told: odds >= otherTold}
	if o.told {
		k.tell(l, first.e.StationM, trace.AdviseExposed, remark.ExposedOtherGround{MeasuredM: first.r.DepthM, ReadM: first.e.DepthM})
	}
	l.Centerline.Notes = append(l.Centerline.Notes, remark.DepthsAsRead{DifferM: first.e.DepthM - first.r.DepthM})
	return o, true
}

// minusTwoLn is -2 ln of how likely a common factor, normal with a variance in ln, and the
// places' own errors make the exposed depths, to within a constant.
func minusTwoLn(places []exposedPlace, common float64) float64 {
	weight, sum := 0.0, 0.0
	for _, p := range places {
		weight, sum = weight+1/sq(p.noise), sum+p.lnDepth/sq(p.noise)
	}
	mean := sum / weight
	l := sq(mean)/(common+1/weight) + math.Log(common+1/weight)
	for _, p := range places {
		l += sq((p.lnDepth - mean) / p.noise)
	}
	return l
}

// explained reports whether the receiver's error explains each of some exposed depths.
func explained(places []exposedPlace) bool {
	for _, p := range places {
		if math.Abs(p.lnDepth) > surprising*math.Hypot(receiver.DepthScaleRel, p.noise) {
			return false
		}
	}
	return true
}

// hold widens the band of a depth until it has what the depth is otherwise: read is what
// was traced, base the error of that in ln, one sigma.
func (o otherDepths) hold(v *trace.Vertex, readM, base float64) {
	d := readM * math.Exp(-o.lnScale)
	half := d * math.Expm1(math.Min(mostLnDepth95, 1.96*math.Sqrt(o.variance+base*base)))
	v.Depth95M = math.Max(v.Depth95M, math.Abs(d-v.DepthM)+half)
}
