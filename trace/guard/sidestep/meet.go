package sidestep

import (
	"math"

	"loamline.example/geo"
)

// What tells whether two runs meet. Judgement.
const (
	// leastMet places make the course of a run that ends or begins there, mostMet at the
	// most: what lies farther off tells little of where it goes on.
	leastMet, mostMet = 3, 8
	// mostTurned is by how much one bend between them turns the course.
	mostTurned = 120 * math.Pi / 180
	// Two runs whose courses differ by surelyTurned and turnedSigmas of what their own
	// directions may be off turn to that side; less may be to either.
	surelyTurned, turnedSigmas = 1 * math.Pi / 180, 3.0
)

// Miss is by how much two runs do not meet.
type Miss struct {
	AsideM float64 // the way that one of them must be moved at the least
	SigmaM float64 // its error, one sigma
}

// Meet tells by how much two runs, each from where they should meet outwards, miss each
// other: whether one bend between their first places, or a curve to one side, joins them.
// Then the course of either, carried on to the other's first place, passes it on the outer
// side of the bend, and where it passes it on the inner side, or the two are parallel and
// apart, no single bend does (derived). Of a run that is itself bent there the mean way tells
// to which side the whole turns. False where both are, or they lead back beside each other.
func Meet(before, after []geo.XY, ownM float64) (Miss, bool) {
	if len(before) < leastMet || len(after) < leastMet {
		return Miss{}, false
	}
	strideM := before[0].Dist(after[0])
	a, okA := courseFrom(before, strideM, ownM)
	b, okB := courseFrom(after, strideM, ownM)
	a.dir = a.dir.Scale(-1)                                   // as the walk goes
	turn := -math.Atan2(a.dir.Cross(b.dir), a.dir.Dot(b.dir)) // positive to the right
	if !okA && !okB || math.Abs(turn) > mostTurned {
		return Miss{}, false
	}
	onward, back, sigma := 0.0, 0.0, 0.0
	if okA {
		onward, sigma = a.side(after[0]), a.sigmaAt(after[0], ownM)
	}
	if okB {
		back, sigma = b.side(before[0]), math.Max(sigma, b.sigmaAt(before[0], ownM))
	}
	inner := func(turn float64) float64 { // how far on the wrong side of a bend that turns so
		return math.Hypot(math.Max(0, -onward*turn), math.Max(0, -back*turn))
	}
	aside := inner(math.Copysign(1, turn))
	if math.Abs(turn) < surelyTurned+turnedSigmas*math.Hypot(a.dirSigma, b.dirSigma) {
		aside = math.Min(inner(1), inner(-1))
	}
	return Miss{aside, sigma}, true
}

// sigmaAt is the error of how far a place lies beside the course, one sigma.
func (s straight) sigmaAt(at geo.XY, ownM float64) float64 {
	return math.Hypot(ownM, s.dirSigma*s.mid.Dist(at))
}

// courseFrom is the course of the longest straight run from the first of some places on;
// not ok, the mean way of the first few, where these are not straight.
func courseFrom(at []geo.XY, leastM, ownM float64) (best straight, ok bool) {
	loose := looseM(ownM)
	best = straightThrough(at[:leastMet], ownM)
	for n := leastMet; n <= len(at) && (n <= mostMet || at[0].Dist(at[n-1]) <= leastM); n++ {
		s := straightThrough(at[:n], ownM)
		if _, off := spread(at[:n], s.side); off > loose {
			break
		}
		best, ok = s, true
	}
	return best, ok
}
