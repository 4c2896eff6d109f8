package crosscheck

import (
	"fmt"
	"math"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

const (
	degreesPerHour = 15.0 // derived: of the sun
	// farthestH is how far the clock of a place is from its sun: 3.1 h in the west of
	// China, and an hour more where a device is kept on another zone's time. Judgement.
	farthestH = 4.5
)

// zone tells of readings whose clocks are on the time of another part of the world than
// their positions: the sign of a longitude was lost, or all of them lie elsewhere. Times in
// UTC say nothing.
func (f *Found) zone(src trace.Source, home geo.LonLat) {
	n, far, example := 0, 0, 0
	for i := range src.Readings {
		r := &src.Readings[i]
		_, offsetS := r.Time.Zone()
		if r.Time.IsZero() || offsetS == 0 || !r.Placed() {
			continue
		}
		if n++; hoursApart(offsetS, home.LonDeg) > farthestH {
			if far++; far == 1 {
				example = i
			}
		}
	}
	if 2*far <= n || far == 0 {
		return
	}
	r := &src.Readings[example]
	_, offsetS := r.Time.Zone()
	zone := r.Time.Format("-07:00")
	turned := hoursApart(offsetS, -home.LonDeg) <= farthestH
	p := trace.Problem{File: src.Inputs[r.File].Name, Row: int(r.Row), Field: "time", Value: r.Time.Format(time.RFC3339),
		Cause: fmt.Sprintf("the times are in the zone %s, and the positions lie at longitude %.4f, where that zone is not used", zone, home.LonDeg),
		Hint:  "check the positions, their reference system and the clock's zone",
		Check: remark.ZoneFar{Zone: zone, LonDeg: home.LonDeg, SignMayBeLost: turned}}
	if turned {
		p.Hint = "the sign of the longitude may be lost: correct it, or the clock's zone"
	}
	f.tell(p)
}

// hoursApart is how far a zone's clock is from the sun of a longitude.
func hoursApart(offsetS int, lonDeg float64) float64 {
	return math.Abs(math.Remainder(float64(offsetS)/3600-lonDeg/degreesPerHour, 24)) // derived: seconds of an hour, hours of a day
}
