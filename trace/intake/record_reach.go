package intake

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// reach is a box in WGS 84 that holds every place near which a record matters to a
// job; ok is false where there is none, and everything is to be read.
type reach struct {
	box box
	ok  bool
}

type box struct{ west, south, east, north float64 }

func emptyBox() box {
	return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
}

func (b *box) add(x, y float64) {
	b.west, b.east = math.Min(b.west, x), math.Max(b.east, x)
	b.south, b.north = math.Min(b.south, y), math.Max(b.north, y)
}

func (b *box) grow(x, y float64) {
	b.west, b.east, b.south, b.north = b.west-x, b.east+x, b.south-y, b.north+y
}

// beyondReachM is added to the reach on all sides: what positions may still move
// by before the map is made, for a frame or a rounding, is less.
const beyondReachM = 100.0

// reachOf is the box about all readings with a possible position, those that will
// be set aside included. There is none about the antimeridian, nor where a reading
// has no system to tell its place by.
func reachOf(s *trace.Source, frame geo.Frame) reach {
	r := reach{box: emptyBox()}
	for i := range s.Readings {
		p := s.Readings[i].Geographic
		if e := s.Readings[i].Projected; !math.IsNaN(e[0]) && !frame.CRS.Geographic() {
			at, err := frame.Unproject(e[0], e[1])
			if err != nil {
				continue // it is set aside for it
			}
			p = at
		} else if frame.Stated {
			p = frame.ToWGS84(p)
		}
		if p.Valid() && p != (geo.LonLat{}) {
			r.box.add(p.LonDeg, p.LatDeg)
		}
	}
	const degreeM = 111_195.0 // of a sphere of 6371 km
	lat := (trace.RecordReachM + beyondReachM) / degreeM
	most := math.Max(math.Abs(r.box.south), math.Abs(r.box.north)) + lat
	r.box.grow(lat/math.Cos(most*math.Pi/180), lat)
	r.ok = r.box.west >= -180 && r.box.east <= 180 && most < 89
	return r
}

// jobReach is the reach of a job's readings as they are so far; there is none where
// their own frame is not known.
func jobReach(s *trace.Source) reach {
	readings, err := setting.Frame(setting.DatedBy(s.Job, s.Readings))
	if err != nil {
		return reach{}
	}
	return reachOf(s, readings)
}

// meets reports whether two boxes have a place in common.
func (b box) meets(c box) bool {
	return b.west <= c.east && c.west <= b.east && b.south <= c.north && c.south <= b.north
}

// in is the box in a layer's own system and unit, wide enough to hold all of it:
// its sides are bent there.
func (r reach) in(frame geo.Frame) (box, bool) {
	if !r.ok || frame.CRS.Geographic() && !frame.Stated {
		return r.box, r.ok
	}
	out := emptyBox()
	const pieces = 16
	for i := range pieces + 1 {
		for k := range pieces + 1 {
			x, y, err := frame.FromWGS84(geo.LonLat{
				LonDeg: r.box.west + (r.box.east-r.box.west)*float64(i)/pieces,
				LatDeg: r.box.south + (r.box.north-r.box.south)*float64(k)/pieces,
			})
			if err != nil || math.IsNaN(x+y) {
				return out, false
			}
			out.add(x, y)
		}
	}
	out.grow((out.east-out.west)/100, (out.north-out.south)/100)
	return out, true
}
