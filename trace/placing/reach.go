package placing

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// reachKm is how far apart the lines of a job may lie. The job's plane stretches
// with the distance from its meridian: 1.2e-4 at 100 km, but by an eighth across
// an ocean, where zones would be that much too narrow. Judgement.
const reachKm = 100.0

// checkReach refuses a job whose lines lie in different parts of the world: one
// of them is misplaced, or they are two jobs.
func (p *placer) checkReach(rs []trace.Reading) error {
	center, count := centers(rs)
	home := ""
	for i := range rs { // in input order, so that the first of several equals counts
		if l := rs[i].Line; rs[i].Status == "" && (count[home] == 0 || count[l] > count[home]) {
			home = l
		}
	}
	for i := range rs {
		r := &rs[i]
		if r.Status != "" {
			continue
		}
		g, c := center[r.Line], center[home]
		if far := geo.RoughKm(g, c); far > reachKm {
			cause := fmt.Sprintf("line %q lies %.0f km from line %q", r.Line, far, home)
			if s := slip(g, c); s != "" {
				cause += ", and beside it if " + slipCause[s] + " in all its rows"
			}
			return &trace.Problem{File: p.inputs[r.File].Name, Row: int(r.Row), Cause: cause,
				Hint: "correct its positions, or make one map for each place"}
		}
	}
	return nil
}

// centers are the middles of the lines by their possible positions, and how many
// of those each has.
func centers(rs []trace.Reading) (center map[string]geo.LonLat, count map[string]int) {
	pos := map[string][]geo.LonLat{}
	for i := range rs {
		if rs[i].Status == "" {
			pos[rs[i].Line] = append(pos[rs[i].Line], rs[i].Geographic)
		}
	}
	center, count = make(map[string]geo.LonLat, len(pos)), make(map[string]int, len(pos))
	for line, ps := range pos {
		center[line], count[line] = medianOf(ps), len(ps)
	}
	return center, count
}

// slip tells what is wrong with a place if mending that would bring it to where it
// belongs, and nothing where no mending does.
func slip(g, home geo.LonLat) remark.Slip {
	switch {
	case geo.RoughKm(geo.LonLat{LonDeg: g.LatDeg, LatDeg: g.LonDeg}, home) <= OutlierKm:
		return remark.AxesSwapped
	case geo.RoughKm(geo.LonLat{LonDeg: -g.LonDeg, LatDeg: g.LatDeg}, home) <= OutlierKm:
		return remark.LongitudeSignLost
	case geo.RoughKm(geo.LonLat{LonDeg: g.LonDeg, LatDeg: -g.LatDeg}, home) <= OutlierKm:
		return remark.LatitudeSignLost
	}
	return ""
}

// slipCause is a slip in the message with which a job is refused.
var slipCause = map[remark.Slip]string{
	remark.AxesSwapped:       "latitude and longitude are swapped",
	remark.LongitudeSignLost: "the sign of the longitude is lost",
	remark.LatitudeSignLost:  "the sign of the latitude is lost",
}
