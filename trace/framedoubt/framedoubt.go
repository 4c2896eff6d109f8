// Package framedoubt tells how far a whole map may lie off because of the frame that its
// positions are in: not stated, joined to WGS 84 coarsely, or in one of two kinds of foot.
package framedoubt

import (
	"cmp"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Doubt is how far the whole map may lie off because of its frame: not
// stated, or joined to WGS 84 coarsely.
type Doubt struct {
	M      float64
	Datum  string // the one stated, else a local one that it might be
	Stated bool
	Feet   bool // a part of M is that nothing says which foot the positions were converted to
}

// WithFeet adds by how much the two kinds of foot lie apart: either may be wrong without the
// other.
func (d Doubt) WithFeet(m float64) Doubt {
	if m > 0 {
		if d.M == 0 {
			d.Stated, d.Datum = true, ""
		}
		d.M, d.Feet = d.M+m, true
	}
	return d
}

// FeetM is how far the whole map lies off if its positions are in the other kind of foot,
// which an item of its own asks about; 0 where they are in metres or their foot is known.
func FeetM(problems []trace.Problem) (most float64) {
	for _, p := range problems {
		if f, ok := p.Check.(remark.FootUnsaid); ok {
			most = max(most, f.ApartM)
		}
	}
	return most
}

// LeavesOpen reports whether a rule's band cannot be claimed for the frame: one that is not
// stated moves the whole map by all of its difference or by none, and more where no local one
// is known; one that is known has its place under Check before digging from the same figure.
func (d Doubt) LeavesOpen() bool { return d.M > 0 && !d.Stated || d.M >= coarseFrameM }

// coarseFrameM is how good a frame is that is called coarse (judgement, as geo.Frame.CoarseM
// has it).
const coarseFrameM = 0.2

// Of is that of a frame that may be joined to WGS 84 at a time by which the map lies
// offM off.
func Of(f geo.Frame, at geo.LonLat, offM float64) Doubt {
	if local, m := f.DoubtM(at); m > 0 {
		return Doubt{M: m, Datum: local}
	}
	return Doubt{M: max(f.CoarseM(), offM), Datum: cmp.Or(f.Datum.Name, f.CRS.Name), Stated: true}
}
