package cases

import (
	"math"

	"loamline.example/geo"
)

// toldAt reports whether the map tells of a place of a line. An item without
// stations tells of its whole line, and so does a line that is not drawn with an
// item of its own. A stretch tells of what lies beside it: of places for which
// it is the nearest part of all that the map shows of the line, no further off
// than it is long and sideM.
func (j *judge) toldAt(name string, q geo.XY) bool {
	d := j.m.lines[name]
	for _, a := range j.m.advice {
		if a.line != "" && a.line != name {
			continue
		}
		if a.whole || d == nil || len(d.parts) == 0 {
			return true
		}
		if d.tells(a, q) {
			return true
		}
	}
	if d == nil {
		return false
	}
	for _, s := range d.stated {
		if d.tells(s, q) {
			return true
		}
	}
	return false
}

// tells reports whether a stretch tells of a place.
func (d *drawn) tells(s told, q geo.XY) bool {
	const endM = 0.5 // stations are written to a decimetre, ends are where a reading is
	reach := math.Abs(s.toM-s.fromM) + sideM
	if len(s.path) > 0 {
		near := geo.NewPolyline(s.path).Nearest(q).At.Dist(q)
		return near <= reach && near <= d.distance(q)+endM
	}
	station, dist := d.station(q)
	margin := endM
	if s.fromM == s.toM {
		margin = sideM
	}
	return dist <= reach && station >= s.fromM-margin && station <= s.toM+margin
}

// station is where along the line, drawn or stated as a gap, a place lies, and
// how far from it.
func (d *drawn) station(q geo.XY) (stationM, distM float64) {
	distM = math.Inf(1)
	for _, p := range d.parts {
		f := p.path.Nearest(q)
		if v := f.At.Dist(q); v < distM {
			i := min(f.Segment, len(p.path.Points)-2)
			t := 0.0
			if l := p.path.Station(i+1) - p.path.Station(i); l > 0 {
				t = min(1, max(0, (f.StationM-p.path.Station(i))/l))
			}
			stationM, distM = value(p.stationM, i, t), v
		}
	}
	for _, s := range d.stated {
		if len(s.path) == 0 {
			continue
		}
		g := geo.NewPolyline(s.path)
		f := g.Nearest(q)
		if v := f.At.Dist(q); v < distM {
			t := 0.5
			if l := g.Length(); l > 0 {
				t = f.StationM / l
			}
			stationM, distM = s.fromM+(s.toM-s.fromM)*t, v
		}
	}
	return stationM, distM
}
