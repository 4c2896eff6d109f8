package geojson

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/member"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

func TestGeoJSONGolden(t *testing.T) {
	check.Golden(t, "sample.geojson", check.Write(t, sample.Sheet(), Write))
}

// decoded is the written text as a reader sees it.
type decoded struct {
	Bbox     []float64
	Loamline member.JSON
	Features []struct {
		ID       string
		Geometry *struct {
			Type        string
			Coordinates json.RawMessage
		}
		Properties map[string]any
	}
}

func decode(t *testing.T, text []byte) decoded {
	t.Helper()
	var d decoded
	if err := json.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestGeoJSONFollowsTheRFCEverywhere(t *testing.T) {
	for _, origin := range []geo.LonLat{
		{LonDeg: -71.5, LatDeg: 44.1}, {LonDeg: 0.00001, LatDeg: 0.00001}, {LonDeg: 151.2, LatDeg: -33.9},
		{LonDeg: 25, LatDeg: 78}, {LonDeg: 179.9999, LatDeg: -17}, {LonDeg: -179.9998, LatDeg: 52},
		{LonDeg: 179.9996, LatDeg: 65}, {LonDeg: 180, LatDeg: 10}, {LonDeg: -180, LatDeg: 10},
	} {
		s := sample.Moved(sample.EveryKind(), origin)
		if v := check.Violations(check.Write(t, s, Write)); len(v) > 0 {
			t.Errorf("at %v: %q", origin, v)
		}
	}
}

// The antimeridian runs through the job: every centerline stays a LineString
// with one value a vertex, and no length is lost.
func TestGeoJSONAtTheAntimeridian(t *testing.T) {
	s := sample.Moved(sample.Sheet(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17})
	text := check.Write(t, s, Write)
	d := decode(t, text)
	if len(d.Bbox) != 4 || d.Bbox[0] < 179.9 || d.Bbox[2] > -179.9 {
		t.Errorf("bbox %v does not hold the antimeridian as 5.2 wants", d.Bbox)
	}
	lengthM, parts := 0.0, 0
	for _, f := range d.Features {
		p := f.Properties
		if p["role"] != "centerline" {
			continue
		}
		if f.Geometry.Type != "LineString" {
			t.Errorf("%s is a %s", f.ID, f.Geometry.Type)
		}
		if p["line"] == "W-1" {
			parts++
			lengthM += p["length_m"].(float64)
		}
	}
	want := s.Lines[0].Centerline.TracedM()
	if parts != 3 || math.Abs(lengthM-want) > 0.002 {
		t.Errorf("%d parts of %.3f m, want 3 of %.3f", parts, lengthM, want)
	}
}

func TestGeoJSONArraysHaveOneValueAVertex(t *testing.T) {
	s := sample.Sheet()
	// A straight 1 km: the writer adds vertices.
	long := &s.Lines[1].Centerline.Parts[0]
	long.Vertices = []trace.Vertex{long.Vertices[0], long.Vertices[0]}
	long.Vertices[1].Pos.X += 1000
	long.Vertices[1].StationM += 1000
	long.Vertices[1].DepthM = 2
	lines := 0
	for _, f := range decode(t, check.Write(t, s, Write)).Features {
		p := f.Properties
		if p["role"] != "centerline" {
			continue
		}
		lines++
		var pts [][2]float64
		if err := json.Unmarshal(f.Geometry.Coordinates, &pts); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"stations_m", "depth_m", "depth_95_m", "horizontal_95_m"} {
			if n := len(p[name].([]any)); n != len(pts) {
				t.Errorf("%s: %d vertices, %d values of %s", p["line"], len(pts), n, name)
			}
		}
		depth := p["depth_m"].([]any)
		switch p["line"] {
		case "G-1":
			if len(pts) != 11 || depth[5] != 1.55 {
				t.Errorf("1 km straight: %d vertices, depth in the middle %v", len(pts), depth[5])
			}
		case "W-1":
		default:
			if depth[0] != nil {
				t.Errorf("%s: depth %v where none is known", p["line"], depth[0])
			}
		}
	}
	if lines != 4 {
		t.Errorf("%d centerlines, want 4", lines)
	}
}

func TestGeoJSONWritesEveryKindOfFinding(t *testing.T) {
	d := decode(t, check.Write(t, sample.EveryKind(), Write))
	seen := map[string]int{}
	ids := map[string]bool{}
	for _, f := range d.Features {
		seen[f.Properties["role"].(string)]++
		if ids[f.ID] {
			t.Errorf("id %s is used twice", f.ID)
		}
		ids[f.ID] = true
	}
	for _, f := range finding.All() {
		if seen[f.Role()] == 0 {
			t.Errorf("%s is not written", f.Role())
		}
	}
	for _, l := range layer.All() {
		if seen[l.Role] == 0 {
			t.Errorf("%s is not written", l.Role)
		}
	}
}

func TestGeoJSONOfNothing(t *testing.T) {
	s := &trace.Sheet{Plane: geo.NewPlane(geo.LonLat{}), Job: trace.DefaultJob(), Lines: []trace.Line{{Setup: trace.LineSetup{Name: "W-1"}}}}
	text := check.Write(t, s, Write)
	if v := check.Violations(text); len(v) > 0 {
		t.Errorf("%q", v)
	}
	if d := decode(t, text); len(d.Features) != 0 || d.Bbox != nil || len(d.Loamline.Lines) != 1 {
		t.Errorf("got %s", text)
	}
}

func TestGeoJSONReadingWithoutPositionIsKept(t *testing.T) {
	s := sample.Sheet()
	r := trace.NewReading()
	r.Line, r.Row, r.Status, r.Reason = "W-1", 99, trace.StatusSetAside, remark.NoPosition
	impossible := r
	impossible.Row, impossible.Geographic = 100, geo.LonLat{LonDeg: 200, LatDeg: 91}
	swapped, island := r, r
	swapped.Row, swapped.Geographic = 101, geo.LonLat{LonDeg: 44.103, LatDeg: -71.502}
	island.Row, island.Geographic = 102, geo.LonLat{}
	s.Lines[0].Readings = append(s.Lines[0].Readings, r, impossible, swapped, island)
	found := 0
	text := check.Write(t, s, Write)
	for _, f := range decode(t, text).Features {
		if row, ok := f.Properties["row"].(float64); ok && row >= 99 {
			found++
			if f.Geometry != nil {
				t.Errorf("row %v has a place", row)
			}
		}
	}
	if v := check.Violations(text); found != 4 || len(v) > 0 {
		t.Errorf("%d of 4 kept; %q", found, v)
	}
	if b := decode(t, text).Bbox; b[2]-b[0] > 0.01 || b[3]-b[1] > 0.01 {
		t.Errorf("the map's extent is %v", b)
	}
}

func TestGeoJSONReportsAFailingWriter(t *testing.T) {
	full := errors.New("full")
	if err := Write(check.Failing{Err: full}, sample.Sheet()); !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
}

func BenchmarkGeoJSON100kReadings(b *testing.B) {
	s := sample.WithReadings(100_000)
	b.ReportAllocs()
	for b.Loop() {
		var n check.Counting
		if err := Write(&n, s); err != nil {
			b.Fatal(err)
		}
		if n.Lines < 100_000 {
			b.Fatalf("%d lines", n.Lines)
		}
	}
}
