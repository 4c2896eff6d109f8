package cases_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/tracetest/cases"
)

// The judge is tested on maps made by hand, about a line of 40 m that runs east
// 1 m deep and was read from end to end.

var testOrigin = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}

func eastern() cases.Truth {
	p := geo.NewPlane(testOrigin)
	t := cases.Truth{Lines: []cases.TrueLine{{Name: "A", DepthM: []float64{1, 1}, GroundM: math.NaN()}}}
	for _, x := range []float64{0, 40} {
		at := p.LonLat(geo.XY{X: x})
		t.Lines[0].Path = append(t.Lines[0].Path, at)
		t.Read = append(t.Read, cases.Place{Line: "A", At: at, DepthM: math.NaN()})
	}
	return t
}

// handMade is a map with one centerline through places x, y, with bands.
type handMade struct {
	path             []geo.XY
	bandM            float64
	depthM, depth95M float64
	depths           []float64 // one a vertex, over depthM
	zoneM            float64
	advice           []string // JSON
	features         []string // JSON, further ones
}

func (m handMade) geojson(t *testing.T) []byte {
	t.Helper()
	p := geo.NewPlane(testOrigin)
	marshal := func(v any) string {
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	line := geo.NewPolyline(m.path)
	var stations, bands, depths, depthBands []float64
	for i := range m.path {
		stations, bands = append(stations, line.Station(i)), append(bands, m.bandM)
		depths, depthBands = append(depths, m.depthM), append(depthBands, m.depth95M)
	}
	if m.depths != nil {
		depths = m.depths
	}
	zone, err := geo.Buffer(m.path, m.zoneM)
	if err != nil {
		t.Fatal(err)
	}
	fs := append([]string{
		fmt.Sprintf(`{"type":"Feature","properties":{"role":"centerline","line":"A","stations_m":%s,"horizontal_95_m":%s,"depth_m":%s,"depth_95_m":%s},"geometry":{"type":"LineString","coordinates":%s}}`,
			marshal(stations), marshal(bands), marshal(depths), marshal(depthBands), marshal(p.LineString(m.path))),
		fmt.Sprintf(`{"type":"Feature","properties":{"role":"caution_zone","line":"A"},"geometry":{"type":"MultiPolygon","coordinates":%s}}`, marshal(p.MultiPolygon(zone))),
	}, m.features...)
	return []byte(fmt.Sprintf(`{"type":"FeatureCollection","features":[%s],"loamline":{"advice":[%s],"problems":[]}}`, strings.Join(fs, ","), strings.Join(m.advice, ",")))
}

func TestJudge(t *testing.T) {
	straight := []geo.XY{{}, {X: 40}}
	aside := []geo.XY{{Y: 0.8}, {X: 40, Y: 0.8}}
	half := []geo.XY{{}, {X: 20}}
	detoured := []geo.XY{{}, {X: 18}, {X: 18, Y: 1.5}, {X: 20, Y: 1.5}, {X: 20}, {X: 40}}
	good := handMade{path: straight, bandM: 0.03, depthM: 1.02, depth95M: 0.05, zoneM: 0.49}
	with := func(change func(m *handMade)) handMade {
		m := good
		change(&m)
		return m
	}
	object := func(fields string) string {
		return `{"line":"A",` + fields + `,"words":"look there"}`
	}
	frame := `"The datum of the positions is not stated: the whole map may lie 2.00 m off or more."`
	for _, c := range []struct {
		name string
		m    handMade
		want cases.Verdict
	}{
		{"right", good, cases.Drawn},
		{"aside, silent", with(func(m *handMade) { m.path = aside }), cases.Silent},
		{"aside within its zone but not its band", with(func(m *handMade) { m.path = []geo.XY{{Y: 0.1}, {X: 40, Y: 0.1}} }), cases.Silent},
		{"aside, wide band", with(func(m *handMade) { m.path, m.bandM, m.zoneM = aside, 1, 1.5 }), cases.Drawn},
		{"aside, told by an object for the line", with(func(m *handMade) { m.path, m.advice = aside, []string{object(`"kind":"passes"`)} }), cases.Told},
		{"aside, told by an object for the stretch", with(func(m *handMade) { m.path, m.advice = aside, []string{object(`"from_m":0,"to_m":40,"kind":"doubt"`)} }), cases.Told},
		{"aside, told for half of it", with(func(m *handMade) { m.path, m.advice = aside, []string{object(`"from_m":0,"to_m":20,"kind":"doubt"`)} }), cases.Silent},
		{"aside, told by a sentence", with(func(m *handMade) {
			m.path, m.advice = aside, []string{`"A, 0.0 m to 40.0 m: bleed-over suspected (B). Expose."`}
		}), cases.Told},
		{"aside, told of another line", with(func(m *handMade) { m.path, m.advice = aside, []string{`"B, 0.0 m to 40.0 m: not traced."`} }), cases.Silent},
		{"aside, the frame's sentence alone", with(func(m *handMade) { m.path, m.advice = aside, []string{frame} }), cases.Silent},
		{"aside, the frame's object alone", with(func(m *handMade) { m.path, m.advice = aside, []string{`{"line":"","kind":"frame","words":"ask"}`} }), cases.Silent},
		{"half undrawn", with(func(m *handMade) { m.path = half }), cases.Silent},
		{"half undrawn, a gap elsewhere", with(func(m *handMade) {
			m.path, m.features = half, []string{feature(t, "gap", `"from_m":5,"to_m":8,"why":"x"`, geo.XY{X: 5}, geo.XY{X: 8})}
		}), cases.Silent},
		{"half undrawn, a gap there", with(func(m *handMade) {
			m.path, m.features = half, []string{feature(t, "gap", `"from_m":20,"to_m":40,"why":"x"`, geo.XY{X: 20}, geo.XY{X: 40})}
		}), cases.Told},
		{"a detour that is not there", with(func(m *handMade) { m.path = detoured }), cases.Silent},
		{"a detour that is not there, graded", with(func(m *handMade) {
			m.path, m.features = detoured, []string{feature(t, "bleed_over", `"from_m":16,"to_m":25,"grade":"watch"`, geo.XY{X: 16}, geo.XY{X: 20})}
		}), cases.Told},
		{"too deep", with(func(m *handMade) { m.depthM = 1.4 }), cases.Silent},
		{"too deep for three metres", with(func(m *handMade) {
			m.path, m.depths = []geo.XY{{}, {X: 18}, {X: 19}, {X: 21}, {X: 22}, {X: 40}}, []float64{1, 1, 1.6, 1.6, 1, 1}
		}), cases.Silent},
		{"depth not known", with(func(m *handMade) { m.depthM, m.depth95M, m.depths = 0, 0, []float64{} }), cases.Drawn},
	} {
		got, err := cases.Judge(c.m.geojson(t), eastern(), cases.Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if got.Verdict != c.want {
			t.Errorf("%s: %s, want %s: %q", c.name, got.Verdict, c.want, got.Why)
		}
	}
}

func feature(t *testing.T, role, fields string, path ...geo.XY) string {
	t.Helper()
	b, err := json.Marshal(geo.NewPlane(testOrigin).LineString(path))
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf(`{"type":"Feature","properties":{"role":%q,"line":"A",%s},"geometry":{"type":"LineString","coordinates":%s}}`, role, fields, b)
}

// An exposure has to lie within the band even where nothing else is wrong.
func TestJudgeOfAnExposure(t *testing.T) {
	m := handMade{path: []geo.XY{{}, {X: 40}}, bandM: 0.03, depthM: 1, depth95M: 0.05, zoneM: 0.49}
	p := geo.NewPlane(testOrigin)
	for _, c := range []struct {
		at     geo.XY
		depthM float64
		want   cases.Verdict
	}{{geo.XY{X: 20}, 1, cases.Drawn}, {geo.XY{X: 20, Y: 0.2}, 1, cases.Silent}, {geo.XY{X: 20}, 0.5, cases.Silent}} {
		truth := eastern()
		truth.Exposed = []cases.Place{{Line: "A", At: p.LonLat(c.at), DepthM: c.depthM}}
		got, err := cases.Judge(m.geojson(t), truth, cases.Options{})
		if err != nil || got.Verdict != c.want {
			t.Errorf("exposed at %v, %.1f m deep: %v %q, want %s (%v)", c.at, c.depthM, got.Verdict, got.Why, c.want, err)
		}
	}
}
