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
	var path geo.Polyline
	if s.Drawn(name) != nil {
		return out
	}
	for _, r := range s.Records {
		if path.Points == nil && r.Name == name && len(r.Path) > 1 {
			out.Utility, out.Record, path = r.Utility, true, geo.NewPolyline(r.Path)
		}
	}
	if out.Utility == trace.UnknownKind {
		out.Utility = ""
	}
	if path.Points == nil || len(at) == 0 {
		return out
	}
	line, left, right := l.Centerline.Polyline(), 0, 0
	for k := range sideSamples {
		here := line.At(at[0].FromM + (at[0].ToM-at[0].FromM)*(float64(k)+0.5)/sideSamples)
		foot := path.Nearest(here)
		if line.Nearest(foot.At).OffsetM > 0 {
			right++
		} else {
			left++
		}
	}
	switch {
	case left == 0:
		out.Side = trace.Right
	case right == 0:
		out.Side = trace.Left
	}
	return out
}
