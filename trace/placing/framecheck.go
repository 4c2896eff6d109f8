package placing

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// needDegrees refuses a job in a projected system none of whose rows has eastings and
// northings: whoever stated it meant something else by it, and taking no more than its
// datum from it would move the map without a word.
func (p *placer) needDegrees(rs []trace.Reading) error {
	crs := p.frame.CRS
	if crs.Geographic() || p.features {
		return nil
	}
	degrees := -1
	for i := range rs {
		if !math.IsNaN(rs[i].Projected[0]) || !math.IsNaN(rs[i].Projected[1]) {
			return nil
		}
		if degrees < 0 && !math.IsNaN(rs[i].Geographic.LatDeg) {
			degrees = i
		}
	}
	if degrees < 0 {
		return nil
	}
	return &trace.Problem{File: p.inputs[rs[degrees].File].Name, Row: int(rs[degrees].Row),
		Cause: fmt.Sprintf("the positions are latitudes and longitudes, and crs names a system of eastings and northings, %s (%s)", crs.ID(), crs.Name),
		Hint:  "leave crs out and name the frame of the corrections as datum; to have files written in that system, name it with --output-crs, or as crs under [output]"}
}

// checkFrame holds what the job says of its reference system and datum against where
// the readings lie.
func (p *placer) checkFrame(rs []trace.Reading) error {
	var possible []geo.LonLat
	first := -1
	for i := range rs {
		if rs[i].Status == "" {
			possible = append(possible, rs[i].Geographic)
			if first < 0 {
				first = i
			}
		}
	}
	if first < 0 {
		return nil
	}
	home := medianOf(possible)
	file := p.inputs[rs[first].File].Name
	if err := p.swappedAll(home, file); err != nil {
		return err
	}
	where := placeWords(home)
	crs := p.frame.CRS
	if crs.Area().Name == "" {
		return nil // a system of whose use nothing is known
	}
	if crs.Geographic() && !crs.Covers(home) {
		return &trace.Problem{File: file, Row: int(rs[first].Row),
			Cause: fmt.Sprintf("the positions lie at %s, and crs names a system for another part of the world, %s (%s, for %s)", where, crs.ID(), crs.Name, crs.Area().Name),
			Hint:  misplacedHint(home, crs.Covers) + "name the system that the positions are in"}
	}
	if !crs.Holds(home) { // farther off each row is set aside
		p.problems = append(p.problems, trace.Problem{File: file, Field: "crs", Value: crs.ID(), Warn: true,
			Cause: fmt.Sprintf("the positions lie at %s, outside the area that their system is made for (%s, for %s)", where, crs.Name, crs.Area().Name),
			Hint:  "check crs",
			Check: remark.OutsideArea{CRS: crs.ID(), Area: crs.Area().Name}})
	}
	believed, why := p.frame.Believed(home)
	if why != "" {
		p.datum = ""
		p.problems = append(p.problems, trace.Problem{File: file, Field: "datum", Value: p.frame.Datum.Name, Warn: true,
			Cause: fmt.Sprintf("the positions lie at %s, and no service there sends corrections in this datum", where),
			Hint:  misplacedHint(home, p.frame.Datum.MayBeAt) + "name the frame that the corrections were in; the map is made as if none were stated",
			Check: remark.DatumUnbelieved{Why: why, MayBe: mislaidBy(home, p.frame.Datum.MayBeAt)}})
	}
	p.frame = believed
	return nil
}

// mislaid are the slips that put a place on another continent, and where it would lie
// without them.
var mislaid = []struct {
	slip remark.Slip
	of   func(geo.LonLat) geo.LonLat
}{
	{remark.LongitudeSignLost, func(p geo.LonLat) geo.LonLat { return geo.LonLat{LonDeg: -p.LonDeg, LatDeg: p.LatDeg} }},
	{remark.LatitudeSignLost, func(p geo.LonLat) geo.LonLat { return geo.LonLat{LonDeg: p.LonDeg, LatDeg: -p.LatDeg} }},
	{remark.AxesSwapped, func(p geo.LonLat) geo.LonLat { return geo.LonLat{LonDeg: p.LatDeg, LatDeg: p.LonDeg} }},
}

// mislaidBy is the slip without which a place would be one that fits; empty where there
// is none.
func mislaidBy(p geo.LonLat, fits func(geo.LonLat) bool) remark.Slip {
	for _, m := range mislaid {
		if q := m.of(p); q.Valid() && fits(q) {
			return m.slip
		}
	}
	return ""
}

// misplacedHint begins the hint on a frame that does not fit its positions.
func misplacedHint(p geo.LonLat, fits func(geo.LonLat) bool) string {
	maybe := ""
	switch mislaidBy(p, fits) {
	case remark.LongitudeSignLost:
		maybe = "the sign of the longitude may be lost"
	case remark.LatitudeSignLost:
		maybe = "the sign of the latitude may be lost"
	case remark.AxesSwapped:
		maybe = "latitude and longitude may be swapped"
	default:
		return ""
	}
	return maybe + "; else "
}

// placeWords is a place as the cause of a problem has it.
func placeWords(p geo.LonLat) string {
	return fmt.Sprintf("latitude %.4f, longitude %.4f", p.LatDeg, p.LonDeg)
}

// swappedAll refuses a job whose readings lie far from whatever else it knows to be
// there, and with it once latitude and longitude change places.
func (p *placer) swappedAll(home geo.LonLat, file string) error {
	at, _, ok := p.elsewhere([]geo.LonLat{home}, 0)
	swapped := geo.LonLat{LonDeg: home.LatDeg, LatDeg: home.LonDeg}
	if !ok || !swapped.Valid() || geo.RoughKm(home, at) < 2*OutlierKm || geo.RoughKm(swapped, at) > OutlierKm {
		return nil
	}
	return &trace.Problem{File: file,
		Cause: fmt.Sprintf("the readings and the other place that the job knows (a transmitter or a record) lie %.0f km apart, and would lie together if latitude and longitude were swapped in one of them", geo.RoughKm(home, at)),
		Hint:  "exchange the two where they are wrong: in a table by their headers or under [columns]; in a job file longitude comes first"}
}
