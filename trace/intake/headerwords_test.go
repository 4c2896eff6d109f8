package intake

import (
	"strings"
	"testing"

	"loamline.example/trace/remark"
)

// A column map that gives a column to the other direction than its header says is refused.
func TestOtherAxis(t *testing.T) {
	for _, c := range []struct {
		header, ours string
		want         bool
	}{
		{"Longitude", "lat", true}, {"Latitude", "lon", true}, {"Länge", "lat", true}, {"Breite", "lon", true}, {"GPSLat", "lon", true}, {"gpslongitude", "lat", true},
		{"Northing", "east_m", true}, {"Easting (m)", "north_m", true}, {"N (m)", "east_m", true}, {"Hochwert", "east_m", true}, {"E", "north_ft", true},
		{"Latitude", "lat", false}, {"Easting", "east_m", false}, {"Y", "lat", false}, {"Longitude (E/W)", "lon", false}, {"North gate easting", "east_m", false}, {"Northing", "depth_m", false},
	} {
		if got := otherAxis(c.header, c.ours); got != c.want {
			t.Errorf("%q read as %s: %v", c.header, c.ours, got)
		}
	}
	_, err := ReadTable(strings.NewReader("Latitude,Longitude\n51,3.7\n"), "t.csv", 0, TableOptions{Columns: map[string]string{"lat": "Longitude", "lon": "Latitude"}})
	if err == nil || !strings.Contains(err.Error(), "as lat, and its header says the other direction") {
		t.Error(err)
	}
	_, err = ReadTable(strings.NewReader("E_ftUS,N_ftUS\n5,3\n"), "t.csv", 0, TableOptions{Columns: map[string]string{"east_ft": "E_ftUS", "north_ft": "N_ftUS"}})
	if err == nil || !strings.Contains(err.Error(), `as east_ft, and its header says US survey feet ("E_ftUS"); write under [columns] east_usft = "E_ftUS"`) {
		t.Error(err)
	}
}

// Depths to the top or the invert are read as the map says, and told.
func TestDepthsElsewhere(t *testing.T) {
	for header, want := range map[string]string{"Depth to top (m)": "top", "Cover (m)": "top", "Überdeckung (m)": "top", "Invert depth m": "invert", "Depth (m)": "", "Depth to centre, not top": "", "Depth below ground surface": ""} {
		table := readText(t, "lat,lon,\""+header+"\"\n44.1,-71.5,1\n", TableOptions{Columns: map[string]string{"depth_m": header}})
		got := ""
		for _, p := range table.Problems {
			if r, ok := p.Check.(remark.DepthElsewhere); ok {
				got = map[bool]string{true: "invert", false: "top"}[r.Invert]
			}
		}
		if got != want || table.Readings[0].DepthM != 1 {
			t.Errorf("%s: %q, want %q", header, got, want)
		}
	}
}

// Figures without a sign under a header that says west or south are not read as east or
// north.
func TestHemispheres(t *testing.T) {
	for _, c := range []struct{ header, ours, figure, want string }{
		{"Longitude (W)", "lon", "93.2", "says west"}, {"Lon West", "lon", "93.2", "says west"}, {"Lat S", "lat", "33.4", "says south"}, {"Latitud sur", "lat", "33.4", "says south"},
		{"Longitude (W)", "lon", "-93.2", ""}, {"Lon (E/W)", "lon", "93.2", ""}, {"Lat d m s", "lat", "33.4", ""}, {"Lats", "lat", "33.4", ""},
	} {
		other := map[string]string{"lon": "lat", "lat": "lon"}[c.ours]
		_, err := ReadTable(strings.NewReader(other+",\""+c.header+"\"\n5,"+c.figure+"\n"), "t.csv", 0, TableOptions{Columns: map[string]string{c.ours: c.header}})
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %s: %v", c.header, c.figure, err)
		}
	}
}
