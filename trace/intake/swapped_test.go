package intake

import (
	"errors"
	"strings"
	"testing"

	"loamline.example/trace"
)

// A table whose latitudes cannot be any is refused at its header; single rows are left
// to where they are placed.
func TestDegreesThatAreNone(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		columns     map[string]string
		row, column int
		cause, hint string
	}{
		{"swapped", "point,lat,lon\n1,-155.4,45.2\n2,-155.4,45.3\n", nil, 1, 7, "latitude and longitude are swapped: 2 of 2", `exchange the headers "lat" and "lon"`},
		{"swapped by the map", "Y,X\n-155.4,45.2\n", map[string]string{"lat": "Y", "lon": "X"}, 1, 1, "are swapped", `under [columns]: lat = "X", lon = "Y"`},
		// 44 degrees 6.0012 minutes are 44.10002 degrees (NMEA 0183's ddmm.mmmm, from memory).
		{"degrees and minutes", "lat,lon\n4406.0012,-7130.0000\n4406.0013,-7130.0001\n", nil, 1, 1, "degrees and minutes in one figure", "4406.0012 would be 44.10002000"},
		{"one row", "lat,lon\n-155.4,45.2\n45.2,-155.4\n", nil, 0, 0, "", ""},
		{"no degrees at all", "lat,lon\n500000,4880000\n", nil, 0, 0, "", ""},
	} {
		_, err := ReadTable(strings.NewReader(c.text), "walk.csv", 0, TableOptions{Columns: c.columns})
		var p *trace.Problem
		if c.cause == "" {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if !errors.As(err, &p) || p.Row != c.row || p.Column != c.column || !strings.Contains(p.Cause, c.cause) || !strings.Contains(p.Hint, c.hint) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
