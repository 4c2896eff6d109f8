package bleed

import (
	"math"
	"sort"

	"loamline.example/geo"
)

// headings tells where a course is so straight that its directions need not be
// taken one by one.
type headings struct {
	path   geo.Polyline
	turned []float64 // radians, of each piece against the first, not folded at half a turn
}

func newHeadings(path geo.Polyline) headings {
	h := headings{path, make([]float64, len(path.Points)-1)}
	var last geo.XY // zero until a piece has length
	for i := range h.turned {
		if i > 0 {
			h.turned[i] = h.turned[i-1]
		}
		piece := path.Points[i+1].Sub(path.Points[i])
		if piece.Norm() == 0 {
			continue
		}
		if last != (geo.XY{}) {
			h.turned[i] += math.Atan2(last.Cross(piece), last.Dot(piece))
		}
		last = piece
	}
	return h
}

// within reports whether all pieces from one station to another, and one more at
// each end, head the same way within an angle below half a turn. Then so do all
// chords between points of them, for a chord is a sum of parts of pieces. Where
// that cannot be told it is false.
func (h headings) within(fromM, toM, angle float64) bool {
	if !(fromM <= toM) {
		return false
	}
	first := max(0, h.after(fromM)-2)
	last := min(len(h.turned)-1, h.after(toM)+1)
	if first > last {
		return false
	}
	const rounding = 1e-9 // a bound of the arithmetic
	lo, hi := h.turned[first], h.turned[first]
	for _, t := range h.turned[first+1 : last+1] {
		lo, hi = math.Min(lo, t), math.Max(hi, t)
		if !(hi-lo < angle-rounding) {
			return false
		}
	}
	return !math.IsNaN(lo)
}

// after is the first point of the course at or after a station.
func (h headings) after(stationM float64) int {
	return sort.Search(len(h.path.Points), func(i int) bool { return h.path.Station(i) >= stationM })
}
