package depthlevel

import "math"

// What a turn of the course is. Judgement, but for the sigmas: a bend of less than leastTurn is
// what a straight line laid by hand has, and one that turns within a stride is straight to
// straightM, or to straightSigmas of what a place errs, before and after.
const (
	turnPlaces, leastPlaces = 5, 3
	leastTurn               = 5 * math.Pi / 180
	turnSigmas              = 4.0
	straightM               = 0.04
	straightSigmas          = 3.0
)

// TurnsAt reports whether a course of places turns within the stride before the k-th, and runs
// straight before and after: as a trace does that leaves its line for another. errM is what one
// place errs by, one sigma.
func TurnsAt(places [][2]float64, k int, errM float64) bool {
	before, straightB, longB := straight(places[max(0, k-turnPlaces):k], errM)
	after, straightA, longA := straight(places[k:min(len(places), k+turnPlaces)], errM)
	if !straightB || !straightA {
		return false
	}
	turn := math.Abs(math.Remainder(after-before, 2*math.Pi))
	sigma := math.Sqrt2 * errM * math.Hypot(1/longB, 1/longA) // derived: of two chords between two places each
	return turn > math.Max(leastTurn, turnSigmas*sigma)
}

// straight is the direction of some places, whether they lie on one chord, and how long it is.
func straight(places [][2]float64, errM float64) (direction float64, ok bool, longM float64) {
	if len(places) < leastPlaces {
		return 0, false, 0
	}
	a, b := places[0], places[len(places)-1]
	x, y := b[0]-a[0], b[1]-a[1]
	longM = math.Hypot(x, y)
	for _, p := range places {
		if aside := (x*(p[1]-a[1]) - y*(p[0]-a[0])) / longM; !(math.Abs(aside) <= math.Max(straightM, straightSigmas*errM)) {
			return 0, false, longM
		}
	}
	return math.Atan2(y, x), true, longM
}
