// Package crosscheck holds what a job says, and what is taken for granted of its readings,
// against what the readings say themselves: the day and the epoch against their times, the
// zone of their clock against where they lie, hookup and frequency against their columns, and
// that places were exposed against what a receiver showed there. The text of its tolerance
// rule is held against the zone that is drawn by it.
package crosscheck

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Found is what does not fit: the problems, and how far the whole map may lie off because
// the time at which its frame is joined to WGS 84 is in doubt.
type Found struct {
	Problems []trace.Problem
	OffM     float64
}

// Job looks at a job as it was stated, once its readings have their places and before
// anything of the job is written into them; frame is that of their positions, and home
// about where they lie in WGS 84.
func Job(src trace.Source, frame geo.Frame, home geo.LonLat) Found {
	var f Found
	f.epoch(src, frame, home)
	f.zone(src, home)
	f.pictures(src, frame)
	f.setups(src)
	f.exposed(src)
	f.rule(src)
	return f
}

func (f *Found) tell(p trace.Problem) {
	p.Warn = true
	f.Problems = append(f.Problems, p)
}

// webMercator is the system of map tiles (published, EPSG).
const webMercator = 3857

// pictures tells of a system that is made for pictures: it covers the world, so that no
// figure of another grid lies outside it.
func (f *Found) pictures(src trace.Source, frame geo.Frame) {
	if frame.CRS.Code == webMercator {
		f.tell(trace.Problem{File: src.Name, Field: "crs", Value: frame.CRS.ID(),
			Cause: "this system is made for web maps, and coordinates of any other grid pass for it unnoticed",
			Hint:  "check that the map lies where the readings were taken; export the positions as degrees, or in a survey grid",
			Check: remark.WebMercator{}})
	}
}

// between is how far apart a place lies in WGS 84 by two epochs of its frame.
func between(frame geo.Frame, at geo.LonLat, a, b float64) float64 {
	frame.Epoch = a
	p := frame.ToWGS84(at)
	frame.Epoch = b
	q := frame.ToWGS84(at)
	xy := geo.NewPlane(p).XY(q)
	return math.Hypot(xy.X, xy.Y)
}
