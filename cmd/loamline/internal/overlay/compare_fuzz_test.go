package overlay

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"loamline.example/export/geojson"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

const mapText = `{"type":"FeatureCollection","features":[
{"type":"Feature","geometry":{"type":"LineString","coordinates":[[-30.5,44.1],[-30.4998,44.1001],[-30.4996,44.1002]]},
"properties":{"role":"centerline","line":"W-1","utility":"water","ticket":"T-1","date":"2026-05-12","stations_m":[0,19.5,39],"depth_m":[1,null,1.2],"depth_95_m":[0.1,null,0.1],"horizontal_95_m":[0.1,0.2,null]}},
{"type":"Feature","geometry":{"type":"LineString","coordinates":[[-30.5,44.1],[-30.4998,44.1001]]},"properties":{"role":"bleed_over","line":"W-1","grade":"strong","from_m":3,"to_m":9}},
{"type":"Feature","geometry":null,"properties":{"role":"doubt","line":"W-1","from_m":30,"to_m":null}}],
"loamline":{"settings":{"crs":"EPSG:4326","datum":"WGS84"}}}`

// Whatever a file holds, comparing it ends: it is refused with what to do, or laid over
// another map and over itself, in words, as GeoJSON and as a page that are whole.
func FuzzCompareMaps(f *testing.F) {
	f.Add(mapText)
	f.Add(strings.ReplaceAll(mapText, "44.100", "44.20"))
	f.Add(strings.ReplaceAll(mapText, "19.5", "null"))
	f.Add(strings.ReplaceAll(mapText, "44.1001", "1e300"))
	f.Add(strings.ReplaceAll(mapText, "-30.4998", "179.9999"))
	f.Add(`{"loamline":{},"features":[{"properties":{"role":"centerline"}}]}`)
	other, err := geojson.ReadLocated(strings.NewReader(mapText), "other.geojson")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := geojson.ReadLocated(strings.NewReader(text), "map.geojson")
		if err != nil {
			if told := (*trace.Problem)(nil); !errors.As(err, &told) || told.Cause == "" || told.Hint == "" {
				t.Errorf("%v says not what to do", err)
			}
			return
		}
		for _, pair := range [][2]trace.Located{{m, other}, {other, m}, {m, m}} {
			laid := compare.OverlayPairs(pair[0], pair[1], compare.PairLines(pair[0], pair[1]))
			for _, o := range laid {
				if said := strings.Join(Words(o, geo.Metric), " "); strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
					t.Errorf("%q", said)
				}
			}
			var b bytes.Buffer
			if err := WriteGeoJSON(&b, pair[0], pair[1], laid, geo.US); err != nil || !json.Valid(b.Bytes()) {
				t.Errorf("GeoJSON: %v", err)
			}
			b.Reset()
			if err := WritePage(&b, pair[0], pair[1], laid, geo.Metric); err != nil || !strings.HasSuffix(strings.TrimSpace(b.String()), "</html>") {
				t.Errorf("page: %v", err)
			}
		}
	})
}
