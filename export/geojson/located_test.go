package geojson

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A map read back has the lines that were written, part by part in the order of
// stations, whatever the order of its features.
func TestReadLocatedReadsWhatGeoJSONWrites(t *testing.T) {
	s := sample.Sheet()
	parts := s.Lines[0].Centerline.Parts
	parts[0], parts[1] = parts[1], parts[0]
	got, err := ReadLocated(bytes.NewReader(check.Write(t, s, Write)), "map.geojson")
	if err != nil {
		t.Fatal(err)
	}
	if got.Name != "map.geojson" || got.Ticket != "T-2041" || got.Date != "2026-05-12" || len(got.Lines) != 3 {
		t.Fatalf("%s, ticket %s of %s: %d lines", got.Name, got.Ticket, got.Date, len(got.Lines))
	}
	l := got.Lines[0]
	if l.Name != "W-1" || len(l.Parts) != 2 || l.Parts[0][0].StationM != 0 || l.Parts[1][0].StationM < 40 {
		t.Fatalf("%s: %d parts, from %v", l.Name, len(l.Parts), l.Parts[0][0])
	}
	for k, v := range parts[1].Vertices {
		w := l.Parts[0][k]
		if math.Abs(w.DepthM-v.DepthM) > 0.0006 || math.Abs(w.Horizontal95M-v.Horizontal95M) > 0.0006 || s.Plane.XY(w.At).Dist(v.Pos) > 0.001 {
			t.Errorf("vertex %d: %+v, want %+v", k, w, v)
		}
	}
	if d := got.Lines[2].Parts[0][0].DepthM; trace.Known(d) {
		t.Errorf("a depth that nobody read became %v", d)
	}
}

// A map that does not trust its own line says so to a comparison too: by its doubts, and by
// bleed-over that is more than watched for.
func TestReadLocatedReadsWhatTheMapDoubts(t *testing.T) {
	s := sample.Sheet()
	l := &s.Lines[0]
	l.Findings = []trace.Finding{
		finding.Doubt{Line: "W-1", FromM: 3, ToM: 9, Why: remark.NoPosition},
		finding.BleedOver{Line: "W-1", FromM: 10, ToM: 12, Grade: trace.GradeStrong, Path: l.Centerline.Parts[0].Path()},
		finding.BleedOver{Line: "W-1", FromM: 20, ToM: 22, Grade: trace.GradeWatch, Path: l.Centerline.Parts[0].Path()},
	}
	got, err := ReadLocated(bytes.NewReader(check.Write(t, s, Write)), "map.geojson")
	if err != nil {
		t.Fatal(err)
	}
	w := got.Lines[0]
	if w.Utility != trace.Water || len(w.Doubted) != 2 {
		t.Fatalf("%s, doubted %v", w.Utility, w.Doubted)
	}
	from := map[float64]bool{w.Doubted[0].FromM: true, w.Doubted[1].FromM: true}
	if !from[3] || !from[10] {
		t.Errorf("doubted %v", w.Doubted)
	}
}

// Whatever kind of finding makes the map's own figures doubtful does so for a comparison too;
// where there is a gap no figure stands.
func TestReadLocatedDoubtsByEveryKindThatTheMapDoubts(t *testing.T) {
	for _, f := range finding.All() {
		if _, gap := f.(finding.Gap); gap {
			continue
		}
		s := sample.Sheet()
		l := &s.Lines[0]
		l.Findings = []trace.Finding{f}
		from, to := f.Span()
		told := words.At(l, trace.Vertex{StationM: (from + to) / 2, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1})
		if doubtful()[f.Role()] != told.Distrusted() {
			t.Errorf("%T: the map trusts its figures: %v, a comparison otherwise", f, !told.Distrusted())
		}
	}
}

func TestReadLocatedSaysWhatTheFileLacks(t *testing.T) {
	text := string(check.Write(t, sample.Sheet(), Write))
	for name, tt := range map[string]struct{ text, want string }{
		"no JSON":      {"lat,lon\n", "this is not GeoJSON"},
		"another's":    {`{"type":"FeatureCollection","features":[]}`, "does not say that loamline wrote it"},
		"cut stations": {strings.Replace(text, `"stations_m":[0.0,`, `"stations_m":[`, 1), "one station, depth and band per vertex"},
	} {
		if _, err := ReadLocated(strings.NewReader(tt.text), "map.geojson"); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A map whose places, stations or depths no map has is refused with where they stand: one
// coordinate altered by hand had a comparison work for seconds and fail without a word.
func TestReadLocatedRefusesWhatNoMapHas(t *testing.T) {
	const whole = `{"loamline":{},"features":[{"geometry":{"coordinates":[[-30.5,44.1],[-30.4998,44.1]]},
"properties":{"role":"centerline","line":"W-1","stations_m":[0,16],"depth_m":[1,1],"depth_95_m":[0.1,null],"horizontal_95_m":[0.1,0.1]}}]}`
	for name, c := range map[string]struct{ old, now, want string }{
		"whole":              {"", "", ""},
		"beyond any number":  {"44.1],[", "1e300],[", "position 1 of the centerline is not a longitude and latitude"},
		"on the next street": {"-30.4998", "-30.49", ""},
		"190 km off":         {"[-30.4998,44.1]", "[-30.5,45.808]", ""},
		"210 km off":         {"[-30.4998,44.1]", "[-30.5,45.989]", "position 2 of the centerline lies more than 200 km"},
		"stations that fall": {"[0,16]", "[16,0]", "station 2 of the centerline"},
		"no station":         {"[0,16]", "[0,null]", "station 2 of the centerline"},
		"a negative band":    {"[0.1,0.1]", "[0.1,-0.1]", "depth or band 2 of the centerline"},
	} {
		_, err := ReadLocated(strings.NewReader(strings.Replace(whole, c.old, c.now, 1)), "map.geojson")
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
