package records

import (
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// sideSamples is at how many places of a stretch it is asked on which side of it another
// line lies. Judgement.
const sideSamples = 5

// NeighborOf is what is known of a line on record from which signal may come on a stretch:
// it has no paint, so a crew wants to know what it is, and on which side to look for it. A
// line that was traced stands in the lists by itself.
func NeighborOf(s *trace.Sheet, l trace.Line, name string, asideM float64, at []remark.Stretch) remark.Neighbor {
	out := remark.Neighbor{AsideM: asideM}
	itsName := name == l.Setup.Name // then it is a line of another kind that goes by it
	if s.Drawn(name) != nil && !itsName {
		return out
	}
	var pieces []piece
	for _, r := range s.Records {
		if r.Name == name && len(r.Path) > 1 && !(itsName && sameLine(r, l.Setup)) {
			pieces = append(pieces, piece{geo.NewPolyline(r.Path), r.Utility})
		}
	}
	if len(pieces) == 0 {
		return out
	}
	out.Record, out.Utility = true, pieces[0].utility
	if len(at) > 0 {
		out.Side, out.Utility = sideOf(l.Centerline.Polyline(), pieces, at[0])
	}
	if out.Utility == trace.UnknownKind {
		out.Utility = ""
	}
	return out
}

// piece is one of the records that go by one name: a layer has a main in as many pieces as
// it was laid in, and two lines may go by one name.
type piece struct {
	path    geo.Polyline
	utility trace.Utility
}

// sideOf is on which side of a stretch the nearest of some pieces lies, and what it is;
// empty where that is not the same all along.
func sideOf(line geo.Polyline, pieces []piece, at remark.Stretch) (side trace.Side, utility trace.Utility) {
	left, right := 0, 0
	for k := range sideSamples {
		here := line.At(at.FromM + (at.ToM-at.FromM)*(float64(k)+0.5)/sideSamples)
		near, foot := pieces[0], pieces[0].path.Nearest(here)
		for _, p := range pieces[1:] {
			if f := p.path.Nearest(here); f.At.Dist(here) < foot.At.Dist(here) {
				near, foot = p, f
			}
		}
		if line.Nearest(foot.At).OffsetM > 0 {
			right++
		} else {
			left++
		}
		if k == 0 {
			utility = near.utility
		} else if utility != near.utility {
			utility = ""
		}
	}
	switch {
	case left == 0:
		side = trace.Right
	case right == 0:
		side = trace.Left
	}
	return side, utility
}
