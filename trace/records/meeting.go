package records

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// meetings leaves one crossing of each meeting of two lines: where both stay
// within NearM of each other from one crossing to the next, such as two lines in
// one trench that sway about each other, they meet once.
func meetings(a, b *trace.Centerline, crossed []finding.Crossing) []finding.Crossing {
	if len(crossed) < 2 {
		return crossed
	}
	sort.SliceStable(crossed, func(i, j int) bool { return crossed[i].StationM < crossed[j].StationM })
	nearA, nearB := a.Polyline().Index(), b.Polyline().Index()
	out := crossed[:1:1]
	for k := 1; k < len(crossed); k++ {
		from, to := crossed[k-1], crossed[k]
		if !staysNear(a, nearB, from.StationM, to.StationM) || !staysNear(b, nearA, from.OtherStationM, to.OtherStationM) {
			out = append(out, to)
		}
	}
	return out
}

// staysNear reports whether all vertices between two stations lie within NearM of
// another line.
func staysNear(c *trace.Centerline, other *geo.PolylineIndex, fromM, toM float64) bool {
	if fromM > toM {
		fromM, toM = toM, fromM
	}
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if v.StationM > fromM && v.StationM < toM && math.Abs(other.Nearest(v.Pos).OffsetM) > NearM {
				return false
			}
		}
	}
	return true
}
