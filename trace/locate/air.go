package locate

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

func isAirCoupled(r *trace.Reading) bool {
	_, is := r.Reason.(remark.AirCoupled)
	return is && r.Status == trace.StatusSetAside
}

// transmitterAt is where the transmitter stands: as stated, or for induction
// where the antennas hear most of its own field. heard tells the latter.
func transmitterAt(rs []trace.Reading, setup trace.LineSetup, plane geo.Plane) (at *geo.XY, inferred bool) {
	if setup.Transmitter != nil {
		p := plane.XY(*setup.Transmitter)
		return &p, false
	}
	nearest := math.Inf(1)
	for i := range rs {
		r := &rs[i]
		if ratio := r.SignalLow / r.SignalHigh; isAirCoupled(r) && r.Placed() && r.Hookup == trace.HookupInduction && ratio < nearest {
			nearest, at, inferred = ratio, &r.Pos, true
		}
	}
	return at, inferred
}

// airGaps are the stretches past the ends of a drawn line where readings were
// taken that showed the transmitter's own field.
func airGaps(line string, c *trace.Centerline, rs []trace.Reading) []trace.Finding {
	first, last := c.Parts[0].Vertices[0], c.Parts[len(c.Parts)-1]
	end := last.Vertices[len(last.Vertices)-1]
	pl := c.Polyline()
	var out []trace.Finding
	for k, from := range []trace.Vertex{first, end} {
		reach := 0.0
		for i := range rs {
			r := &rs[i]
			if !isAirCoupled(r) || !r.Placed() {
				continue
			}
			f := pl.Nearest(r.Pos)
			past := f.StationM <= 0 && k == 0 || f.StationM >= pl.Length() && k == 1
			if d := r.Pos.Dist(from.Pos); past && d > reach {
				reach = d
			}
		}
		if reach < undrawnM {
			continue
		}
		path := append([]geo.XY{from.Pos}, farther(from.Pos, rs, pl, reach)...)
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

// undrawnM is the shortest stretch past an end that is worth a gap. Judgement.
const undrawnM = 0.5

// farther are the places of the air-coupled readings within reach of an end, by
// their distance from it.
func farther(from geo.XY, rs []trace.Reading, pl geo.Polyline, reachM float64) []geo.XY {
	var out []geo.XY
	for i := range rs {
		r := &rs[i]
		if d := r.Pos.Dist(from); !isAirCoupled(r) || !r.Placed() || d > reachM || d == 0 {
			continue
		}
		if f := pl.Nearest(r.Pos); f.StationM > 0 && f.StationM < pl.Length() {
			continue
		}
		at := len(out)
		for at > 0 && out[at-1].Dist(from) > r.Pos.Dist(from) {
			at--
		}
		out = append(out[:at], append([]geo.XY{r.Pos}, out[at:]...)...)
	}
	return out
}
