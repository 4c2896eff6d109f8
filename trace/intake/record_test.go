package intake

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

func readLayer(t testing.TB, name string, kind trace.Utility) ([]trace.GeoRecord, []trace.Problem) {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, problems, err := ReadRecords(f, name, kind)
	if err != nil {
		t.Fatal(err)
	}
	return records, problems
}

// Two real layers of a city (sources in testdata/SOURCES.md), with the old crs
// member and 15 digits. Parts and vertices were counted, and the last position
// printed, by Python's json.
func TestCityLayers(t *testing.T) {
	for _, tt := range []struct {
		file            string
		parts, vertices int
		first           string
		last            geo.LonLat
	}{
		{"../../testdata/chicago/pedway_routes.geojson", 336, 1079, "1", geo.LonLat{LonDeg: -87.6225367953934, LatDeg: 41.8855716913581}},
		{"../../testdata/chicago/bike_routes_subset.geojson", 15, 618, "bike_routes_subset 1", geo.LonLat{LonDeg: -87.6392179879961, LatDeg: 41.867252917523366}},
	} {
		records, problems := readLayer(t, tt.file, trace.Communication)
		vertices := 0
		for _, r := range records {
			vertices += len(r.Path)
			if r.Utility != trace.Communication || r.Source != tt.file || len(r.DepthM) != len(r.Path) || trace.Known(r.DepthM[0]) {
				t.Fatalf("%+v", r)
			}
		}
		last := records[len(records)-1]
		if len(records) != tt.parts || vertices != tt.vertices || records[0].Name != tt.first || last.Path[len(last.Path)-1] != tt.last || len(problems) != 0 {
			t.Errorf("%s: %d parts, %d vertices, first %q, ends at %v, problems %v", tt.file, len(records), vertices, records[0].Name, last.Path[len(last.Path)-1], problems)
		}
	}
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + "\n" + strings.Join(features, ",\n") + "\n]}"
}

func lineFeature(properties string) string {
	return `{"type":"Feature","properties":` + properties + `,"geometry":{"type":"LineString","coordinates":[[-71.5,44.1],[-71.4,44.2,212.5]]}}`
}

func TestRecordProperties(t *testing.T) {
	tests := []struct {
		properties, name string
		kind             trace.Utility
		depths           string
		problems         int
	}{
		{`null`, "gas 1", trace.Gas, "[NaN NaN]", 0},
		{`{"NAME":"G-7","Utility":"Water","depth_m":1.2}`, "G-7", trace.Water, "[1.2 1.2]", 0},
		{`{"name":" ","label":"L","utility":"W12","depth_in":[36,72]}`, "L", trace.Gas, "[0.9144 1.8288]", 0},
		{`{"OBJECTID":12,"utility":null,"DEPTH_FT":10}`, "12", trace.Gas, "[3.048 3.048]", 0},
		{`{"id":3.5,"depth_cm":[85,null]}`, "3.5", trace.Gas, "[0.85 NaN]", 0},
		{`{"depth_m":[1,2,3]}`, "gas 1", trace.Gas, "[NaN NaN]", 1},
		{`{"depth_m":-999}`, "gas 1", trace.Gas, "[NaN NaN]", 1},
		{`{"depth_m":"1.2"}`, "gas 1", trace.Gas, "[NaN NaN]", 1},
		{`{"depth_m":[1.2,0]}`, "gas 1", trace.Gas, "[1.2 NaN]", 1},
		{`{"depth_m":999}`, "gas 1", trace.Gas, "[NaN NaN]", 1},
	}
	for _, tt := range tests {
		records, problems, err := ReadRecords(strings.NewReader(collection(lineFeature(tt.properties))), "gas.geojson", trace.Gas)
		if err != nil || len(records) != 1 || len(problems) != tt.problems {
			t.Errorf("%s: %v, %v, %v", tt.properties, records, problems, err)
			continue
		}
		if r := records[0]; r.Name != tt.name || r.Utility != tt.kind || fmt.Sprintf("%.5g", r.DepthM) != tt.depths {
			t.Errorf("%s: %+v", tt.properties, r)
		}
	}
}

// One document of each kind that RFC 7946 allows for lines.
func TestLayerKinds(t *testing.T) {
	line := `"coordinates":[[-71.5,44.1],[-71.4,44.2]]`
	multi := `"coordinates":[[[-71.5,44.1],[-71.4,44.2]],[[-71.3,44.1],[-71.2,44.2]]]`
	for text, want := range map[string]int{
		`{"type":"LineString",` + line + `}`:                                                                    1,
		`{` + line + `,"type":"LineString"}`:                                                                    1,
		`{"type":"MultiLineString",` + multi + `}`:                                                              2,
		`{"type":"Feature","id":"x","properties":{},"geometry":{"type":"LineString",` + line + `}}`:             1,
		`{"geometry":{` + multi + `,"type":"MultiLineString"},"bbox":[1,2,3,4],"type":"Feature"}`:               2,
		`{"features":[` + lineFeature("{}") + `],"crs":null,"name":"x","type":"FeatureCollection"}`:             1,
		`{"type":"FeatureCollection","features":[]}`:                                                            0,
		"\ufeff" + `{"type":"LineString",` + line + `}`:                                                         1,
		`{"type":"FeatureCollection","crs":{"properties":{"name":"urn:ogc:def:crs:EPSG::4326"}},"features":[]}`: 0,
	} {
		records, _, err := ReadRecords(strings.NewReader(text), "a.json", trace.Gas)
		if err != nil || len(records) != want {
			t.Errorf("%s: %d, %v", text, len(records), err)
		}
	}
}

func TestLayersThatAreNone(t *testing.T) {
	projected := `{"type":"Feature","properties":{"name":"G-1"},"geometry":{"type":"LineString","coordinates":[[583960.1,4507523.2],[583970.1,4507533.2]]}}`
	for name, tt := range map[string]struct {
		text, want string
		row        int
	}{
		"empty":           {"", "ends too early", 1},
		"a table":         {"lat,lon\n1,2\n", "this is not GeoJSON", 1},
		"a list":          {"[1]", "does not begin with an object", 1},
		"other JSON":      {`{"a":1}`, `its type is ""`, 1},
		"a point":         {`{"type":"Point","coordinates":[1,2]}`, `its type is "Point"`, 1},
		"no features":     {`{"type":"FeatureCollection"}`, "no 'features'", 1},
		"cut off":         {collection(lineFeature("{}"), lineFeature("{}"))[:250], "ends too early", 3},
		"broken":          {collection(lineFeature("{}"), lineFeature("{}"), "{]"), "invalid character", 4},
		"another crs":     {"{\"type\":\"FeatureCollection\",\n\"crs\":{\"properties\":{\"name\":\"urn:ogc:def:crs:EPSG::999999\"}},\"features\":[]}", "not in WGS 84 degrees", 2},
		"crs at the end":  {`{"features":[` + projected + `],"crs":{"type":"link"},"type":"FeatureCollection"}`, "not in WGS 84 degrees", 1},
		"projected":       {collection(projected, projected), "none of the 2 lines can be used; the first: 583960.1, 4507523.2 is not a longitude and latitude: the figures seem to be of a projected system", 2},
		"endless feature": {`{"type":"FeatureCollection","features":[{"x":"` + strings.Repeat("x", 70<<20), "longer than 64 MB", 1},
	} {
		_, _, err := ReadRecords(strings.NewReader(tt.text), "city.geojson", trace.Gas)
		var p *trace.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Cause, tt.want) || p.Row != tt.row || p.Hint == "" || p.File != "city.geojson" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// One bad feature does not cost the layer, and nothing is left out in silence.
func TestFeaturesLeftOut(t *testing.T) {
	geometry := func(g string) string { return `{"type":"Feature","properties":{"name":"B"},"geometry":` + g + `}` }
	features := []string{
		lineFeature(`{"name":"A"}`), // line 2
		geometry(`null`),
		geometry(`{"type":"Point","coordinates":[1,2]}`),
		geometry(`{"type":"Point","coordinates":[1,2]}`),
		geometry(`{"type":"Polygon","coordinates":[]}`),
		geometry(`{"type":"Curve","coordinates":[]}`),
		geometry(`{"type":"LineString","coordinates":[[1,2]]}`), // line 8
		geometry(`{"type":"LineString","coordinates":[[1,2],[3]]}`),
		geometry(`{"type":"LineString","coordinates":[[1,2],["3",4]]}`),
		geometry(`{"type":"LineString","coordinates":{"a":1}}`),
		geometry(`{"type":"LineString","coordinates":[[1,2],[400,4]]}`),
		geometry(`{"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[]]}`),
		geometry(`{"type":"LineString"}`),
		geometry(`[]`),
		`"text"`,
		lineFeature(`{"name":"Z"}`),
	}
	records, problems, err := ReadRecords(strings.NewReader(collection(features...)), "city.geojson", trace.Gas)
	if err != nil || len(records) != 2 || records[1].Name != "Z" {
		t.Fatal(records, err)
	}
	var rows []int
	var words []string
	for _, p := range problems {
		if !p.Warn || p.Hint == "" {
			t.Errorf("%+v", p)
		}
		if p.Row > 0 {
			rows = append(rows, p.Row)
		} else {
			words = append(words, p.Cause)
		}
	}
	if fmt.Sprint(rows) != "[8 9 10 11 12 13 14 15 16]" {
		t.Errorf("features on lines %v: %v", rows, problems)
	}
	want := "2 features with Point|1 features with Polygon|1 features with no geometry|1 features with an unknown geometry"
	for i, w := range strings.Split(want, "|") {
		if i >= len(words) || !strings.HasPrefix(words[i], w) {
			t.Errorf("%q", words)
		}
	}
}

func FuzzReadRecords(f *testing.F) {
	f.Add(collection(lineFeature(`{"name":"A","depth_m":[1,2]}`), `{"type":"Feature","geometry":{"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[]]}}`))
	f.Add(`{"type":"LineString","coordinates":[[1,2,3],[4.5e1,-6]]}`)
	f.Add(`{"crs":{"properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[null,1,{"geometry":{"type":"Point"}}],"type":"FeatureCollection"}`)
	f.Fuzz(func(t *testing.T, text string) {
		records, problems, err := ReadRecords(strings.NewReader(text), "city.geojson", trace.Gas)
		if err != nil {
			var p *trace.Problem
			if !errors.As(err, &p) || p.Cause == "" || p.Hint == "" || p.Warn || p.Row > 1+strings.Count(text, "\n") {
				t.Fatalf("%+v", err)
			}
		}
		for _, p := range problems {
			if !p.Warn || p.Row > 1+strings.Count(text, "\n") {
				t.Fatalf("%+v", p)
			}
		}
		for _, r := range records {
			if len(r.Path) < 2 || len(r.DepthM) != len(r.Path) || r.Name == "" {
				t.Fatalf("%+v", r)
			}
			for _, ll := range r.Path {
				if !ll.Valid() {
					t.Fatalf("%+v", r)
				}
			}
		}
	})
}

func BenchmarkReadRecords(b *testing.B) {
	var text strings.Builder
	text.WriteString(`{"type":"FeatureCollection","features":[`)
	const features = 10_000
	for i := range features {
		if i > 0 {
			text.WriteByte(',')
		}
		fmt.Fprintf(&text, "\n"+`{"type":"Feature","properties":{"OBJECTID":%d,"name":"W-%d","MATERIAL":"iron","DIAM_IN":8,"OWNER":null,"depth_m":1.2},"geometry":{"type":"LineString","coordinates":[`, i, i)
		for j := range 10 {
			fmt.Fprintf(&text, "%s[%.15f,%.15f]", strings.Repeat(",", min(j, 1)), -71.5+float64(i)*1e-5+float64(j)*1e-6, 44.1+float64(j)*1e-5)
		}
		text.WriteString("]}}")
	}
	text.WriteString("\n]}")
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		records, problems, err := ReadRecords(io.Reader(strings.NewReader(text.String())), "city.geojson", trace.Gas)
		if err != nil || len(problems) > 0 || len(records) != features || records[features-1].Path[9].LatDeg != 44.10009 {
			b.Fatal(len(records), problems, err)
		}
	}
}
