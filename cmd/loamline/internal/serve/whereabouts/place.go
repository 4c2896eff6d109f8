// Package whereabouts says roughly where readings and jobs lie, well enough to find a job, to
// offer an answer again near where it was given, and to offer reference systems that are used
// there. Nothing that a line is drawn by belongs here: frames and datums are package geo's.
package whereabouts

import (
	"math"
)

// Place is roughly where a table's readings lie: degrees as the file has them,
// or metres of a grid that the file does not name.
type Place struct {
	Grid bool    `json:"grid,omitempty"`
	X    float64 `json:"x"` // longitude, or easting
	Y    float64 `json:"y"` // latitude, or northing
}

// nearM is how far from where it was given an answer is offered again: the
// reach of a day's work from one office.
const nearM = 50_000.0

// degreeM is the length of a degree of latitude, good enough for nearM.
const degreeM = 111_000.0

// Near reports whether two places are close to each other; an unknown one is
// close to nothing.
func (p *Place) Near(o *Place) bool {
	if p == nil || o == nil || p.Grid != o.Grid {
		return false
	}
	dx, dy := p.X-o.X, p.Y-o.Y
	if !p.Grid {
		dx = math.Remainder(dx, 360) * degreeM * math.Cos((p.Y+o.Y)/2*math.Pi/180)
		dy *= degreeM
	}
	return math.Hypot(dx, dy) <= nearM
}
