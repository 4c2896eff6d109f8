package pdf

import (
	"math"

	"loamline.example/export/station"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// profilePoint is a vertex of the profile; heights in metres.
type profilePoint struct {
	stationM, groundM, depthM, bandM float64
	distrusted                       bool // the depth as read is not to be taken for that of the line
	unheld                           bool // and the doubt leaves no band
}

func (q profilePoint) lineM() float64 { return q.groundM - q.depthM }

// collect takes the vertices within the strip, cut at its ends.
func (p *profileView) collect() {
	from, to := p.sh.strip.FromM, p.sh.strip.ToM
	p.elevation = true
	along := words.NewAlong(p.line.Line)
	for _, part := range p.line.Centerline.Parts {
		run := cutPart(along, part, from, to)
		for _, q := range run {
			if math.IsNaN(q.groundM) && !math.IsNaN(q.depthM) {
				p.elevation = false
			}
		}
		if len(run) > 1 {
			p.points = append(p.points, run)
		}
	}
	any := false
	for _, run := range p.points {
		for i := range run {
			any = any || !math.IsNaN(run[i].groundM)
		}
	}
	if p.elevation = p.elevation && any; p.elevation {
		return
	}
	for _, run := range p.points {
		for i := range run {
			run[i].groundM = 0
		}
	}
}

// cutPart returns a part's vertices between two stations, with the points where
// the part enters and leaves.
func cutPart(along *words.Along, part trace.Part, fromM, toM float64) []profilePoint {
	fromM, toM = math.Max(fromM, part.FromM()), math.Min(toM, part.ToM())
	if !(toM > fromM) {
		return nil
	}
	run := []profilePoint{pointOf(along, station.At(part, fromM))}
	for _, v := range part.Vertices {
		if v.StationM > fromM && v.StationM < toM {
			run = append(run, pointOf(along, v))
		}
	}
	return append(run, pointOf(along, station.At(part, toM)))
}

func pointOf(along *words.Along, v trace.Vertex) profilePoint {
	told := along.At(v)
	return profilePoint{v.StationM, v.ElevM + v.DepthM, v.DepthM, v.Depth95M, told.Distrusted(), told.Distrusted() && !trace.Known(told.DepthM)}
}

// ground returns the height of the ground at a station, Unknown off the line.
func (p *profileView) ground(stationM float64) float64 {
	if !p.elevation {
		return 0
	}
	for _, run := range p.points {
		for i := 1; i < len(run); i++ {
			if a, b := run[i-1], run[i]; stationM >= a.stationM-1e-6 && stationM <= b.stationM+1e-6 && b.stationM > a.stationM {
				return a.groundM + (b.groundM-a.groundM)*(stationM-a.stationM)/(b.stationM-a.stationM)
			}
		}
	}
	return trace.Unknown
}

// heldRuns parts runs into the stretches where the depth may be told with a band, or into
// those where it may not.
func (p *profileView) heldRuns(runs [][]profilePoint, unheld bool) [][]profilePoint {
	return parted(runs, unheld, func(q profilePoint) bool { return q.unheld })
}

// knownRuns returns the stretches on which depth, and band where asked for, are
// known at every vertex.
func (p *profileView) knownRuns(band bool) [][]profilePoint {
	var out [][]profilePoint
	for _, run := range p.points {
		var cur []profilePoint
		for _, q := range append(run[:len(run):len(run)], profilePoint{depthM: trace.Unknown}) {
			if trace.Known(q.depthM) && (!band || trace.Known(q.bandM)) {
				cur = append(cur, q)
				continue
			}
			if len(cur) > 1 {
				out = append(out, cur)
			}
			cur = nil
		}
	}
	return out
}

// parted parts runs into the stretches of which something holds, or into those of which it
// does not.
func parted(runs [][]profilePoint, want bool, holds func(profilePoint) bool) [][]profilePoint {
	var out [][]profilePoint
	for _, run := range runs {
		var cur []profilePoint
		for i := 1; i < len(run); i++ {
			if a, b := run[i-1], run[i]; (holds(a) || holds(b)) == want {
				if cur == nil {
					cur = append(cur, a)
				}
				cur = append(cur, b)
				continue
			}
			if cur != nil {
				out = append(out, cur)
			}
			cur = nil
		}
		if cur != nil {
			out = append(out, cur)
		}
	}
	return out
}
