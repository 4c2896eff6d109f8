package tracetest

import (
	"math"

	"loamline.example/geo"
)

// Kind is the kind of an element of a buried line's plan.
type Kind string

// The kinds of element.
const (
	Straight Kind = "straight"
	Arc      Kind = "arc"
	Wander   Kind = "wander" // a cable laid by eye
)

// Element is a piece of a line's plan. A joint between two elements is tangent
// unless a Corner stands there.
type Element struct {
	Kind    Kind
	FromM   float64
	ToM     float64
	RadiusM float64 // of an arc
}

// Corner is an elbow: TurnDeg positive to the left.
type Corner struct {
	StationM float64
	TurnDeg  float64
}

// shape is a plan under construction: a point that walks and turns.
type shape struct {
	at       geo.XY
	heading  float64 // radians from east, positive to the left
	points   []geo.XY
	elements []Element
	corners  []Corner
	length   float64
}

func newShape(at geo.XY, heading float64) *shape {
	return &shape{at: at, heading: heading, points: []geo.XY{at}}
}

func (s *shape) step(lengthM float64) {
	s.at = s.at.Add(geo.XY{X: math.Cos(s.heading), Y: math.Sin(s.heading)}.Scale(lengthM))
	s.points = append(s.points, s.at)
	s.length += lengthM
}

func (s *shape) element(k Kind, fromM, radiusM float64) {
	if n := len(s.elements); n > 0 && k == Straight && s.elements[n-1].Kind == Straight && !s.cornerAt(fromM) {
		s.elements[n-1].ToM = s.length
		return
	}
	s.elements = append(s.elements, Element{k, fromM, s.length, radiusM})
}

func (s *shape) cornerAt(stationM float64) bool {
	n := len(s.corners)
	return n > 0 && math.Abs(s.corners[n-1].StationM-stationM) < 1e-9
}

// straight goes on in vertices of about a metre.
func (s *shape) straight(lengthM float64) *shape {
	from := s.length
	n := int(math.Ceil(lengthM))
	for range n {
		s.step(lengthM / float64(n))
	}
	s.element(Straight, from, 0)
	return s
}

// corner turns on the spot.
func (s *shape) corner(turnDeg float64) *shape {
	s.heading += turnDeg * math.Pi / 180
	s.corners = append(s.corners, Corner{s.length, turnDeg})
	return s
}

// arc follows a circle through an angle; its chords leave it by no more than
// 3 mm at the radii in use.
func (s *shape) arc(radiusM, turnDeg float64) *shape {
	from := s.length
	turn := turnDeg * math.Pi / 180
	n := int(math.Ceil(math.Abs(turn) / math.Min(0.08, math.Sqrt(8*0.003/radiusM))))
	chord := 2 * radiusM * math.Sin(math.Abs(turn)/float64(2*n))
	for range n {
		s.heading += turn / float64(2*n)
		s.step(chord)
		s.heading += turn / float64(2*n)
	}
	s.element(Arc, from, radiusM)
	return s
}

// The wander of a cable: its curvature is a Gauss-Markov process along the
// line, and its heading is drawn back to the trench's.
const (
	wanderStepM       = 0.5
	wanderCorrM       = 6.0
	wanderCurvature   = 0.025 // 1/m, one sigma
	wanderHeadingBack = 20.0  // m
)

func (s *shape) wander(r random, lengthM float64) *shape {
	from, base := s.length, s.heading
	k := r.norm(wanderCurvature)
	keep := math.Exp(-wanderStepM / wanderCorrM)
	for range int(lengthM / wanderStepM) {
		k = keep*k + r.norm(wanderCurvature*math.Sqrt(1-keep*keep))
		s.heading += wanderStepM * (k - (s.heading-base)/wanderHeadingBack)
		s.step(wanderStepM)
	}
	s.element(Wander, from, 0)
	return s
}

// WanderResponse returns how a wandering piece of a length answers each of the
// independent unit shocks that it is made of: offsets to its right at steps of
// stepM, to first order. Their outer product is the covariance of a wander.
func WanderResponse(lengthM float64) (stepM float64, offsetsM [][]float64) {
	n := int(lengthM/wanderStepM + 1e-9)
	keep := math.Exp(-wanderStepM / wanderCorrM)
	for shock := range n + 1 {
		var k, turn, off float64
		size := wanderCurvature
		if shock > 0 {
			size *= math.Sqrt(1 - keep*keep)
		}
		out := make([]float64, n+1)
		if shock == 0 {
			k = size
		}
		for i := 1; i <= n; i++ {
			k *= keep
			if shock == i {
				k += size
			}
			turn += wanderStepM * (k - turn/wanderHeadingBack)
			off -= wanderStepM * turn // a turn to the left
			out[i] = off
		}
		offsetsM = append(offsetsM, out)
	}
	return wanderStepM, offsetsM
}
