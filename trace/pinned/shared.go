package pinned

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Shared is an error that a whole trace may have in common, such as that of a base station
// or a frame, of which pins show what lies across the line there. What of it lies along the
// line at all of them is not seen, and lies across where the line heads otherwise.
type Shared struct {
	headings []geo.XY // of the line at the pins
	// UnseenM is what it may be along them, 95 %; 0 where the pins show it all.
	UnseenM float64
}

// What is supposed of an error that a whole trace has in common. Judgement.
const (
	mostSharedM = 1.0 // more than is seen of it: beyond that a walk does not fit what stands beside it
	seenTurned  = 0.5 // sine of the turn between two pins that show it all: half a right angle and less would need three
	shared95    = 0.95
	// farthestM is what positions are off together at the most: a trace that is farther from
	// what was seen is of something else, or its frame is wrong, which is told as such. By
	// the published standard of the open service 95 % of its positions lie within 8 m.
	farthestM = 8.0
)

// Shared is what the pins leave unseen of an error that the whole trace has in common: that
// has any direction alike, so that what lies along a pin's heading over what was seen is the
// tangent of an even angle (derived), up to mostSharedM more than was seen.
func (ps Pins) Shared(c *trace.Centerline) Shared {
	var out Shared
	path := c.Polyline()
	seen := 0.0
	for _, p := range ps {
		h := path.Direction(p.StationM)
		for _, other := range out.headings {
			if math.Abs(h.Cross(other)) > seenTurned {
				return Shared{}
			}
		}
		out.headings = append(out.headings, h)
		seen = math.Max(seen, math.Abs(p.Value))
	}
	if seen > 0 && seen < farthestM {
		out.UnseenM = seen * math.Tan(shared95*math.Atan((mostSharedM+seen)/seen))
	}
	return out
}

// AcrossM is what is unseen of it across a line, right being the unit vector to its right.
func (s Shared) AcrossM(right geo.XY) float64 {
	if s.UnseenM == 0 {
		return 0
	}
	least := 1.0
	for _, h := range s.headings {
		least = math.Min(least, math.Abs(h.Dot(right)))
	}
	return s.UnseenM * least
}
