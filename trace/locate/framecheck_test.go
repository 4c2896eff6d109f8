package locate

import (
	"context"
	"slices"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// walkJob is a job of one walk in degrees.
func walkJob(lon, lat float64, set func(*trace.Job)) trace.Source {
	src := trace.Source{Name: "walk", Job: trace.DefaultJob(), Inputs: []trace.Input{{Name: "a.csv"}}, Readings: fixture.Walk(0, "A", lon, lat, 12)}
	set(&src.Job)
	return src
}

// A system that the positions cannot be in is refused, with what to do.
func TestSystemsOfNoSuchPositions(t *testing.T) {
	for _, c := range []struct {
		name     string
		lon, lat float64
		set      func(*trace.Job)
		want     string
	}{
		{"projected, and degrees", -71.5, 44.1, func(j *trace.Job) { j.CRS = "EPSG:26919" }, "leave crs out and name the frame of the corrections as datum"},
		{"projected and far, and degrees", -155.4, 45.2, func(j *trace.Job) { j.CRS = "EPSG:26918" }, "names a system of eastings and northings, EPSG:26918"},
		{"degrees of another continent", -71.5, 44.1, func(j *trace.Job) { j.CRS = "EPSG:4258" }, "for another part of the world, EPSG:4258 (ETRS89, for Europe"},
		{"the sign lost", 71.5, 44.1, func(j *trace.Job) { j.CRS = "EPSG:6318" }, "the sign of the longitude may be lost; else name"},
		{"swapped beside a transmitter", 44.1, 11.5, func(j *trace.Job) {
			j.Lines = []trace.LineSetup{{Name: "A", Transmitter: &geo.LonLat{LonDeg: 11.5, LatDeg: 44.1}}}
		}, "would lie together if latitude and longitude were swapped in one of them"},
		{"far from a transmitter", 44.1, 11.5, func(j *trace.Job) {
			j.Lines = []trace.LineSetup{{Name: "A", Transmitter: &geo.LonLat{LonDeg: 12.5, LatDeg: 47.1}}}
		}, ""},
		{"its own system", -71.5, 44.1, func(j *trace.Job) { j.CRS = "EPSG:6318" }, ""},
		{"features in a grid", -71.5, 44.1, func(j *trace.Job) {
			j.CRS, j.Features = "EPSG:26919", []trace.FixedFeature{{Name: "hydrant", X: 299800, Y: 4886000, Grid: true}}
		}, ""},
	} {
		s, err := Build(context.Background(), walkJob(c.lon, c.lat, c.set))
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want) || s != nil) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// A datum that cannot be that of the place is told, is an item to check, and moves
// nothing: the map is where it is with none stated.
func TestDatumIsNotBelieved(t *testing.T) {
	build := func(lon float64, datum string) *trace.Sheet {
		s, err := Build(context.Background(), walkJob(lon, 44.1, func(j *trace.Job) { j.Datum, j.Date = datum, "2026-05-12" }))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for lon, datums := range map[float64][]string{-71.5: {"ETRS89", "GDA2020", "JGD2011"}, 11.5: {"NAD83(2011)", "GDA2020"}} {
		none := build(lon, "")
		for _, datum := range datums {
			s := build(lon, datum)
			if s.Plane.Origin() != none.Plane.Origin() || s.Job.Datum != "" {
				t.Errorf("%s at %g moved the map", datum, lon)
			}
			advice := strings.Join(words.Advice(s), "\n")
			if !strings.Contains(advice, "The datum is stated as "+datum+", which is used in another part of the world") || !strings.Contains(s.Frame.In(geo.Metric), "was not used") {
				t.Errorf("%s at %g: %s\n%s", datum, lon, advice, s.Frame.In(geo.Metric))
			}
			if z := s.Lines[0].Caution; z.DoubtM == 0 {
				t.Errorf("%s at %g leaves no doubt", datum, lon)
			}
		}
	}
	if s := build(-71.5, "NAD83(2011)"); s.Job.Datum == "" || strings.Contains(strings.Join(words.Advice(s), "\n"), "believed") {
		t.Error("a datum of the place is not believed")
	}
	lost := strings.Join(words.Advice(build(71.5, "NAD83(2011)")), "\n")
	if !strings.Contains(lost, "the sign of the longitude may be lost, and the map would lie on another continent") {
		t.Error(lost)
	}
}

// Where nothing says which foot the positions were converted to, the whole map may lie that far
// off: no figure of a band stands without it, no class is claimed, and the item of the column
// alone asks about it; what an unstated datum may add comes on top.
func TestFeetThatNothingTellsAreInTheFrame(t *testing.T) {
	for _, datum := range []string{"WGS84", ""} {
		of := func(problems ...trace.Problem) (*trace.Sheet, float64) {
			src := walkJob(-71.5, 44.1, func(j *trace.Job) { j.Datum, j.Date = datum, "2026-05-12" })
			src.Problems = problems
			s, err := Build(context.Background(), src)
			if err != nil {
				t.Fatal(err)
			}
			return s, s.Lines[0].Caution.DoubtM
		}
		sure, before := of()
		feet, after := of(trace.Problem{Warn: true, Check: remark.FootUnsaid{Header: "north_ft", CRS: "EPSG:32619", ApartM: 9.77}})
		if after-before != 9.77 {
			t.Errorf("datum %q: the frame leaves %g m in doubt without and %g m with it", datum, before, after)
		}
		if z := feet.Lines[0].Caution; z.DoubtOpen() || z.DoubtStated != (datum != "") {
			t.Errorf("datum %q: %v %v", datum, z.DoubtOpen(), z.DoubtStated)
		}
		if said := words.DatumDoubt(geo.Metric, feet.Lines[0].Caution); datum != "" && !strings.HasPrefix(said, "Nothing says which foot") {
			t.Errorf("datum %q: %q", datum, said)
		}
		frames := func(s *trace.Sheet) (said []string) {
			for _, a := range s.Advice {
				if a.Kind == trace.AdviseFrame {
					said = append(said, words.Remark(geo.Metric, a.Remark))
				}
			}
			return said
		}
		if a, b := frames(sure), frames(feet); !slices.Equal(a, b) || len(a) != map[string]int{"WGS84": 0, "": 1}[datum] {
			t.Errorf("datum %q: %q without and %q with it", datum, a, b)
		}
		if said := strings.Join(words.Remarks(geo.Metric, feet.Lines[0].Statements), " "); !strings.Contains(said, "depends on what is asked under Check before digging") || strings.Contains(said, "PAS") {
			t.Errorf("datum %q: %q", datum, said)
		}
	}
}

// A transmitter on another continent is a typing error, and told.
func TestFarTransmitterIsTold(t *testing.T) {
	for _, tt := range []struct {
		at   geo.LonLat
		told bool
	}{
		{geo.LonLat{LonDeg: -30.501, LatDeg: 44.1}, false},
		{geo.LonLat{LonDeg: -30.5, LatDeg: 44.5}, false}, // 44 km
		{geo.LonLat{LonDeg: -30.5, LatDeg: 44.7}, true},  // 67 km
		{geo.LonLat{}, true},
	} {
		job := trace.DefaultJob()
		job.Lines = []trace.LineSetup{{Name: "A", Transmitter: &tt.at, DiameterM: trace.Unknown, FreqHz: trace.Unknown, PowerW: trace.Unknown}}
		s, err := Build(context.Background(), trace.Source{Name: "a", Job: job, Readings: fixture.Walk(0, "A", -30.5, 44.1, 8), Inputs: []trace.Input{{Name: "a.csv"}}})
		if err != nil {
			t.Fatal(err)
		}
		told := false
		for _, p := range s.Problems {
			if strings.Contains(p.Cause, "km from the readings") {
				told = true
				if p.Check == nil {
					t.Errorf("transmitter at %v: judged once for the file, and again for what to check", tt.at)
				}
			}
		}
		if told != tt.told {
			t.Errorf("transmitter at %v: told %v; %v", tt.at, told, s.Problems)
		}
		if asked := slices.ContainsFunc(s.Advice, func(a trace.Advice) bool {
			return a.Line == "A" && strings.Contains(said(a.Remark), "is stated to be")
		}); asked != tt.told {
			t.Errorf("transmitter at %v: to check before digging: %v", tt.at, asked)
		}
	}
}
