package records

import (
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

func TestRecordsNearTheJob(t *testing.T) {
	at := func(lon, lat float64) trace.Reading {
		r := trace.NewReading()
		r.Geographic = geo.LonLat{LonDeg: lon, LatDeg: lat}
		return r
	}
	line := func(name string, lon, lat float64) trace.GeoRecord {
		return trace.GeoRecord{Name: name, Source: name + ".geojson", Path: []geo.LonLat{{LonDeg: lon, LatDeg: lat}, {LonDeg: math.Remainder(lon+0.001, 360), LatDeg: lat}}, DepthM: []float64{1, 1}}
	}
	for _, lon := range []float64{-71.5, 179.9999} {
		lon2 := math.Remainder(lon+0.0005, 360)
		rs := []trace.Reading{at(lon, 44.1), at(lon2, 44.1005)}
		stray := at(0, 0)
		stray.Status = trace.StatusSetAside
		rs = append(rs, stray)
		in := []trace.GeoRecord{line("under", lon, 44.1002), line("beside", lon2, 44.102), line("far", lon, 44.2), line("swapped", 44.1, lon)}
		out, _, problems := Plane(in, geo.NewPlane(geo.LonLat{LonDeg: lon, LatDeg: 44.1}), rs)
		if len(out) != 2 || out[0].Name != "under" || out[1].Name != "beside" || math.Abs(out[0].Path[0].Dist(out[0].Path[1])-80) > 1 {
			t.Errorf("%g: %+v", lon, out)
		}
		if len(problems) != 2 || problems[0].File != "far.geojson" || !strings.Contains(problems[0].Cause, "none of the layer's 1 lines") ||
			lon < 90 && !strings.Contains(problems[1].Hint, "swapped") {
			t.Errorf("%g: %+v", lon, problems)
		}
	}
}

// A record is of the job within 250 m of its readings, of 111.2 km a degree of latitude on a
// sphere.
func TestHowNearARecordMatters(t *testing.T) {
	r := trace.NewReading()
	r.Geographic = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}
	for m, want := range map[float64]int{245: 1, 255: 0} {
		lat := 44.1 + m/111_195
		in := []trace.GeoRecord{{Name: "main", Source: "town.geojson", Path: []geo.LonLat{{LonDeg: -71.501, LatDeg: lat}, {LonDeg: -71.499, LatDeg: lat}}, DepthM: []float64{1, 1}}}
		if out, _, _ := Plane(in, geo.NewPlane(r.Geographic), []trace.Reading{r}); len(out) != want {
			t.Errorf("%g m: %d records", m, len(out))
		}
	}
}

// An earlier map whose frame is in doubt may lie off a map whose frame is known, by that and
// by what its line may be off in it; of two that are both in doubt nothing is told here.
func TestEarlierMapsByTheirFrames(t *testing.T) {
	nad83, err := geo.NewFrame("EPSG:4326", "NAD83(2011)", 2026.36)
	if err != nil {
		t.Fatal(err)
	}
	unstated, err := geo.NewFrame("EPSG:4326", "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		frame                 geo.Frame
		frameDoubtM, bandOffM float64
		want                  float64
		why                   string
	}{
		"both known":                {nad83, 0, 0, 0, ""},
		"the earlier not stated":    {nad83, 1.2, 0, 1.2, "the frame of its map is in doubt"},
		"and traced worse":          {nad83, 1.2, 3, 4.2, "it was traced no better"},
		"and traced a little worse": {nad83, 1.2, 0.5, 1.7, "the frame of its map is in doubt"},
		"neither stated":            {unstated, 1.2, 0, 0, ""},
	} {
		r := trace.Record{Earlier: true, FrameDoubtM: c.frameDoubtM, FrameDoubtWhy: "the frame of its map is in doubt", DoubtM: c.bandOffM}
		if c.bandOffM > 0 {
			r.DoubtWhy = "it was traced no better"
		}
		got := ByFrame([]trace.Record{r}, c.frame)[0]
		if math.Abs(got.DoubtM-c.want) > 1e-9 || got.DoubtWhy != c.why {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
