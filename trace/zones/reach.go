package zones

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// ReachAlong tells how far the caution zone reaches on both sides all along the
// drawn line, courses beside it included: words say what is drawn, and no more of
// one side than of the other.
func ReachAlong(c *trace.Centerline, findings []trace.Finding, half float64) []trace.ZoneReach {
	var beside []besideStrip
	for _, f := range findings {
		beside = append(beside, stripsOf(c, f, half)...)
	}
	var out []trace.ZoneReach
	for _, p := range c.Parts {
		stations, path, left, right := cautionWidths(p, findings, half)
		course := geo.NewPolyline(path)
		for i, s := range stations {
			r := trace.ZoneReach{StationM: s, LeftM: left[i], RightM: right[i]}
			for _, strip := range beside {
				strip.widen(&r, path[i], course.Direction(course.Station(i)))
			}
			out = append(out, r)
		}
	}
	return out
}

// besideStrip is a course beside the line with the half-width of its zone.
type besideStrip struct {
	fromM, toM float64 // where along the line it matters
	path       geo.Polyline
	index      *geo.PolylineIndex
	widthM     []float64
}

func stripsOf(c *trace.Centerline, f trace.Finding, half float64) []besideStrip {
	from, to := f.Span()
	if !trace.Known(from) || !trace.Known(to) || len(f.Beside()) == 0 {
		return nil
	}
	band := 0.0
	if _, ok := f.(finding.BleedOver); ok {
		band = bandAt(c, from) // as the zone is drawn
	}
	var out []besideStrip
	for _, s := range f.Beside() {
		if len(s.Path) < 2 {
			continue
		}
		width := make([]float64, len(s.Path))
		for i, h := range s.Half95M {
			width[i] = half + math.Hypot(h, band)
		}
		path := geo.NewPolyline(s.Path)
		out = append(out, besideStrip{from, to, path, path.Index(), width})
	}
	return out
}

// widen lets the reach at a place of the line hold the strip beside it.
func (b besideStrip) widen(r *trace.ZoneReach, at, along geo.XY) {
	if r.StationM < b.fromM-trace.ZoneShoulderM || r.StationM > b.toM+trace.ZoneShoulderM {
		return
	}
	foot := b.index.Nearest(at)
	offM, width := -along.Cross(foot.At.Sub(at)), lerpAt(b.path, b.widthM, foot.StationM)
	r.LeftM, r.RightM = math.Max(r.LeftM, width-offM), math.Max(r.RightM, width+offM)
}

// Reach is how far the caution zone reaches over a stretch: from where to where on
// each side.
type Reach struct {
	Left, Right [2]float64
	Known       bool
}

func (r *Reach) hold(z trace.ZoneReach) {
	if !r.Known {
		r.Left, r.Right, r.Known = [2]float64{z.LeftM, z.LeftM}, [2]float64{z.RightM, z.RightM}, true
		return
	}
	r.Left = [2]float64{min(r.Left[0], z.LeftM), max(r.Left[1], z.LeftM)}
	r.Right = [2]float64{min(r.Right[0], z.RightM), max(r.Right[1], z.RightM)}
}

// With holds the reach of another stretch too.
func (r Reach) With(o Reach) Reach {
	if o.Known {
		r.hold(trace.ZoneReach{LeftM: o.Left[0], RightM: o.Right[0]})
		r.hold(trace.ZoneReach{LeftM: o.Left[1], RightM: o.Right[1]})
	}
	return r
}

// ReachOver is the reach on a stretch of a line, but for what leave says to leave
// out. Between two places of the line it is taken as it is at both.
func ReachOver(zs []trace.ZoneReach, fromM, toM float64, leave func(stationM float64) bool) Reach {
	var out Reach
	for i, z := range zs {
		if z.StationM >= fromM && z.StationM <= toM {
			if !leave(z.StationM) {
				out.hold(z)
			}
			continue
		}
		// The stretch may begin or end between two places, or lie between them.
		if i+1 < len(zs) && z.StationM < fromM && zs[i+1].StationM > fromM {
			out.holdBetween(z, zs[i+1], fromM, leave)
		}
		if i > 0 && z.StationM > toM && zs[i-1].StationM < toM {
			out.holdBetween(zs[i-1], z, toM, leave)
		}
	}
	return out
}

func (r *Reach) holdBetween(a, b trace.ZoneReach, stationM float64, leave func(float64) bool) {
	if leave(stationM) {
		return
	}
	f := (stationM - a.StationM) / (b.StationM - a.StationM)
	r.hold(trace.ZoneReach{StationM: stationM, LeftM: a.LeftM + f*(b.LeftM-a.LeftM), RightM: a.RightM + f*(b.RightM-a.RightM)})
}
