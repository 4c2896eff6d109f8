package check

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// The fixtures and what each should give: testdata/SOURCES.md. Every one that
// should not pass must be caught, also those that published validators let by.
func TestCheckerFindsEveryFault(t *testing.T) {
	dir := "../../../testdata/geojson"
	f, err := os.Open(filepath.Join(dir, "expected.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		text, err := os.ReadFile(filepath.Join(dir, row[0]))
		if err != nil {
			t.Fatal(err)
		}
		v := Violations(text)
		if pass := len(v) == 0; pass != (row[1] == "yes") {
			t.Errorf("%s: should pass: %s, found %q", row[0], row[1], v)
		}
	}
	if len(rows) != 18 {
		t.Errorf("%d fixtures, want 17", len(rows)-1)
	}
}

// Examples as printed in RFC 7946: section 1.5, appendix A.1 to A.7, 3.1.9 and
// 5.2. A checker that refuses them would be wrong.
func TestCheckerAcceptsTheRFCsOwnExamples(t *testing.T) {
	for _, text := range []string{
		`{"type":"FeatureCollection","features":[
		 {"type":"Feature","geometry":{"type":"Point","coordinates":[102.0,0.5]},"properties":{"prop0":"value0"}},
		 {"type":"Feature","geometry":{"type":"LineString","coordinates":[[102.0,0.0],[103.0,1.0],[104.0,0.0],[105.0,1.0]]},"properties":{"prop0":"value0","prop1":0.0}},
		 {"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]]]},"properties":{"prop0":"value0","prop1":{"this":"that"}}}]}`,
		`{"type":"Point","coordinates":[100.0,0.0]}`,
		`{"type":"LineString","coordinates":[[100.0,0.0],[101.0,1.0]]}`,
		`{"type":"Polygon","coordinates":[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]],[[100.8,0.8],[100.8,0.2],[100.2,0.2],[100.2,0.8],[100.8,0.8]]]}`,
		`{"type":"MultiPoint","coordinates":[[100.0,0.0],[101.0,1.0]]}`,
		`{"type":"MultiLineString","coordinates":[[[100.0,0.0],[101.0,1.0]],[[102.0,2.0],[103.0,3.0]]]}`,
		`{"type":"MultiPolygon","coordinates":[[[[102.0,2.0],[103.0,2.0],[103.0,3.0],[102.0,3.0],[102.0,2.0]]],[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]],[[100.2,0.2],[100.2,0.8],[100.8,0.8],[100.8,0.2],[100.2,0.2]]]]}`,
		`{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[100.0,0.0]},{"type":"LineString","coordinates":[[101.0,0.0],[102.0,1.0]]}]}`,
		`{"type":"MultiLineString","coordinates":[[[170.0,45.0],[180.0,45.0]],[[-180.0,45.0],[-170.0,45.0]]]}`,
		`{"type":"MultiPolygon","coordinates":[[[[180.0,40.0],[180.0,50.0],[170.0,50.0],[170.0,40.0],[180.0,40.0]]],[[[-170.0,40.0],[-170.0,50.0],[-180.0,50.0],[-180.0,40.0],[-170.0,40.0]]]]}`,
		`{"type":"FeatureCollection","bbox":[177.0,-20.0,-178.0,-16.0],"features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[179.5,-17.0]},"properties":null}]}`,
	} {
		if v := Violations([]byte(text)); len(v) > 0 {
			t.Errorf("%s\n%q", text, v)
		}
	}
}
