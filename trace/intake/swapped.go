package intake

import (
	"fmt"
	"math"

	"loamline.example/trace"
)

// swappedShare is which share of a table's positions must be impossible in one and the
// same way for the columns to be wrong, and not single rows (judged).
const swappedShare = 0.9

// checkDegrees refuses a table whose latitudes lie nearly all beyond the poles: the two
// columns are swapped, or their figures are no decimal degrees. Single rows of that
// kind are set aside where they are placed.
func (t *tableReader) checkDegrees() *trace.Problem {
	n, swapped, minutes := 0, 0, 0
	example := 0.0
	for i := range t.table.Readings {
		g := t.table.Readings[i].Geographic
		lat, lon := math.Abs(g.LatDeg), math.Abs(g.LonDeg)
		if math.IsNaN(lat) || math.IsNaN(lon) {
			continue
		}
		n++
		switch {
		case lat > 90 && lat <= 180 && lon <= 90:
			swapped++
		case lat > 90 && inMinutes(lat, 90) && inMinutes(lon, 180):
			if minutes++; minutes == 1 {
				example = g.LatDeg
			}
		}
	}
	most := max(swapped, minutes)
	if most == 0 || float64(most) < swappedShare*float64(n) {
		return nil
	}
	at := map[string]TableColumn{}
	for i, c := range t.use {
		at[c.field] = t.table.Columns[i]
	}
	lat, lon := at["lat"], at["lon"]
	p := &trace.Problem{File: t.name, Row: lat.Row, Column: lat.Column, Field: lat.Header}
	if swapped >= minutes {
		p.Cause = fmt.Sprintf("latitude and longitude are swapped: %d of %d latitudes lie beyond 90 degrees, and their longitudes do not", swapped, n)
		p.Hint = fmt.Sprintf("exchange the headers %q and %q, or say so in the job file under [columns]: lat = %q, lon = %q", lat.Header, lon.Header, lon.Header, lat.Header)
		return p
	}
	p.Cause = fmt.Sprintf("%d of %d latitudes lie beyond 90 degrees, as if they were degrees and minutes in one figure", minutes, n)
	deg := math.Trunc(example / 100)
	p.Hint = fmt.Sprintf("write decimal degrees: %.10g would be %.8f", example, deg+(example-100*deg)/60)
	return p
}

// inMinutes reports whether a figure can be degrees and minutes as NMEA 0183 has them,
// 4406.0012 for 44 degrees 6.0012 minutes.
func inMinutes(v, mostDeg float64) bool {
	return math.Trunc(v/100) <= mostDeg && math.Mod(v, 100) < 60
}
