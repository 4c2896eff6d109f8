package locate

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/transmitter"
)

// airGaps are the stretches past the ends of a drawn line where readings were
// taken that showed the transmitter's own field.
func airGaps(line string, c *trace.Centerline, rs []trace.Reading) []trace.Finding {
	pl := c.Polyline()
	off := offEnds(rs, pl)
	if len(off[0])+len(off[1]) == 0 {
		return nil
	}
	first, last := c.Parts[0].Vertices[0], c.Parts[len(c.Parts)-1]
	end := last.Vertices[len(last.Vertices)-1]
	var out []trace.Finding
	for k, from := range []trace.Vertex{first, end} {
		reach := 0.0
		for _, at := range off[k] {
			reach = math.Max(reach, at.Dist(from.Pos))
		}
		if reach < undrawnM {
			continue
		}
		path := append([]geo.XY{from.Pos}, farther(from.Pos, slices.Concat(off[0], off[1]), reach)...)
		alongFrom, alongTo, _ := c.Stretch(from.StationM, from.StationM)
		past := reach
		if k == 0 {
			past = -reach
		}
		out = append(out, finding.Gap{Line: line, FromM: trace.Unknown, ToM: trace.Unknown, Path: path, Along: &[2]float64{alongFrom, alongTo}, PastM: past,
			Why: remark.AirBeyond{OverM: reach, StationM: from.StationM}})
	}
	return out
}

// offEnds are the places of the air-coupled readings past either end of a path.
func offEnds(rs []trace.Reading, path geo.Polyline) (out [2][]geo.XY) {
	var index *geo.PolylineIndex
	for i := range rs {
		r := &rs[i]
		if !transmitter.AirCoupled(r) || !r.Placed() {
			continue
		}
		if index == nil {
			index = path.Index()
		}
		switch f := index.Nearest(r.Pos); {
		case f.StationM <= 0:
			out[0] = append(out[0], r.Pos)
		case f.StationM >= path.Length():
			out[1] = append(out[1], r.Pos)
		}
	}
	return out
}

// undrawnM is the shortest stretch past an end that is worth a gap. Judgement.
const undrawnM = 0.5

// farther are the places within reach of an end, by their distance from it.
func farther(from geo.XY, places []geo.XY, reachM float64) []geo.XY {
	out := slices.DeleteFunc(places, func(p geo.XY) bool { d := p.Dist(from); return d > reachM || d == 0 })
	slices.SortStableFunc(out, func(a, b geo.XY) int { return cmp.Compare(a.Dist(from), b.Dist(from)) })
	return out
}
