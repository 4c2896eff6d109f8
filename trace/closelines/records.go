package closelines

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// leastAlongM is how long a record must run beside a line: what is shorter only ends or crosses
// there, which is told as that. Judgement.
const leastAlongM = 3.0

// Records finds where a line on record runs beside a traced one where nothing was located,
// in a part of it outside its zone, with no room for a bucket between them: the widths told
// from the paint do not hold it. A record that is within the zone of the line drawn all along
// is held by that, and one that another line was traced on by that line's.
func Records(s *trace.Sheet) []Pair {
	records := make([]geo.Polyline, len(s.Records))
	for k, r := range s.Records {
		records[k] = geo.NewPolyline(r.Path)
	}
	boxes := geo.NewPolylineBoxes(len(records), func(k int) geo.Polyline { return records[k] })
	drawn := newDrawn(s.Lines)
	var out []Pair
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil || len(l.Reach) == 0 {
			continue
		}
		halfM, reach := l.Tolerance.HalfWidthM, widths(l.Reach)
		noRoomM := func(stationM float64) float64 { return reach.at(stationM) + halfM + closeSpareM }
		for _, k := range nearTo(l, boxes, noRoomM) {
			if len(s.Records[k].Path) < 2 {
				continue
			}
			as := Pair{Line: l.Setup.Name, Other: s.Records[k].Name, OnRecord: true}
			var unheld []float64 // stations
			for _, c := range alongside(l, records[k], as, func(stationM float64, on geo.Foot) bool {
				apartM := math.Abs(on.OffsetM)
				held := apartM+halfM <= reach.at(stationM)+closeSpareM
				if held && apartM <= halfM || apartM > noRoomM(stationM) || drawn.near(on.At, halfM, i) {
					return false
				}
				if !held {
					unheld = append(unheld, stationM)
				}
				return true
			}) {
				// Once told, it is told to where it comes closest: in the zone it is no farther off.
				told := slices.ContainsFunc(unheld, func(m float64) bool { return c.FromM <= m && m <= c.ToM })
				if told && c.ToM-c.FromM >= leastAlongM && !aboutCrossing(l, c) {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// nearTo lists those of some lines that may come as near to a traced one as is asked at each
// station, in their order.
func nearTo(l *trace.Line, boxes geo.PolylineBoxes, farM func(stationM float64) float64) (ks []int) {
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			ks = boxes.Within(ks, v.Pos, farM(v.StationM))
		}
		slices.Sort(ks)
		ks = slices.Compact(ks)
	}
	return ks
}

// drawn finds traced lines near a place.
type drawn struct {
	boxes geo.PolylineBoxes
	index []*geo.PolylineIndex // nil of a line that was not drawn
}

func newDrawn(lines []trace.Line) drawn {
	paths, index := make([]geo.Polyline, len(lines)), make([]*geo.PolylineIndex, len(lines))
	for i := range lines {
		if lines[i].Centerline != nil {
			paths[i] = lines[i].Centerline.Polyline()
			index[i] = paths[i].Index()
		}
	}
	return drawn{geo.NewPolylineBoxes(len(paths), func(k int) geo.Polyline { return paths[k] }), index}
}

// near reports whether a line other than one lies within some distance of a place.
func (d drawn) near(at geo.XY, distM float64, but int) bool {
	return slices.ContainsFunc(d.boxes.Within(nil, at, distM), func(k int) bool {
		return k != but && d.index[k] != nil && math.Abs(d.index[k].Nearest(at).OffsetM) <= distM
	})
}
