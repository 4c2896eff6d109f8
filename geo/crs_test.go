package geo

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// readTable reads a CSV file of testdata with a header into maps.
func readTable(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func mustCRS(t testing.TB, name string) CRS {
	t.Helper()
	c, err := LookupCRS(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// checkGrid projects a position, compares it within tolM and goes back.
func checkGrid(t *testing.T, c CRS, p LonLat, eastM, northM, tolM float64) {
	t.Helper()
	e, n, err := c.Project(p)
	if err != nil {
		t.Error(err)
		return
	}
	if d := math.Hypot(e-eastM, n-northM); !(d <= tolM) {
		t.Errorf("%s %v: %.5f, %.5f m, want %.5f, %.5f (off %.3g m)", c.ID(), p, e, n, eastM, northM, d)
	}
	q, err := c.Unproject(e, n)
	if err != nil {
		t.Error(err)
		return
	}
	if math.Abs(math.Remainder(q.LonDeg-p.LonDeg, 360)) > 2e-11 || math.Abs(q.LatDeg-p.LatDeg) > 2e-11 {
		t.Errorf("%s: %v came back as %v", c.ID(), p, q)
	}
}

// The 219 points of the USGS program L176, printed in US survey feet to 0.001
// (testdata/SOURCES.md, projections).
func TestStatePlaneAgainstL176(t *testing.T) {
	rows := readTable(t, "projections/state_plane_nad83_nmd_l176.csv")
	if len(rows) != 219 {
		t.Fatalf("%d points", len(rows))
	}
	metric, feet := 0, 0
	for _, r := range rows {
		p := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		e, n := num(t, r["easting_ftus_published"])*USSurveyFootM, num(t, r["northing_ftus_published"])*USSurveyFootM
		codes := strings.Fields(strings.Replace(r["epsg_nad83_metre"], "26979", "2205", 1)) // withdrawn by EPSG
		checkGrid(t, mustCRS(t, codes[len(codes)-1]), p, e, n, 0.0025*USSurveyFootM)
		metric++
		for _, code := range strings.Fields(r["epsg_nad83_ftus"]) {
			c, err := LookupCRS(code)
			if slices.Contains([]string{"2244", "2245", "3454"}, code) {
				continue // withdrawn by EPSG
			}
			if err != nil {
				t.Error(err)
				continue
			}
			// EPSG rounds the false origins of some feet systems by up to 0.003 ft.
			checkGrid(t, c, p, e, n, 0.0055*USSurveyFootM)
			feet++
		}
	}
	if metric != 219 || feet < 100 {
		t.Errorf("%d points compared in metres, %d in feet", metric, feet)
	}
}

// Points computed with PROJ 9.1.1, an independent implementation.
func TestCRSAgainstPROJ(t *testing.T) {
	for _, r := range readTable(t, "projections/proj_9.1.1_reference_points.csv") {
		if r["epsg"] == "5070" { // Albers: see TestLookupCRSErrors
			continue
		}
		c := mustCRS(t, "EPSG:"+r["epsg"])
		if c.Name != r["crs_name"] || math.Abs(c.UnitM-num(t, r["unit_to_metre"])) > 1e-15 {
			t.Errorf("%s is %q in units of %g m, want %q and %s", c.ID(), c.Name, c.UnitM, r["crs_name"], r["unit_to_metre"])
		}
		p := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		checkGrid(t, c, p, num(t, r["easting"])*c.UnitM, num(t, r["northing"])*c.UnitM, 1e-4)
	}
}

// One point in each system of zones.csv, computed with PROJ 9.1.1.
func TestEveryZoneAgainstPROJ(t *testing.T) {
	rows := readTable(t, "projections/proj_9.1.1_every_zone.csv")
	seen := map[string]bool{}
	for _, r := range rows {
		c := mustCRS(t, r["epsg"])
		p := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		checkGrid(t, c, p, num(t, r["easting"])*c.UnitM, num(t, r["northing"])*c.UnitM, 1e-4)
		if !c.Covers(p) {
			t.Errorf("%s doesn't cover %v", c.ID(), p)
		}
		seen[r["epsg"]] = true
	}
	for _, r := range readTable(t, "projections/proj_9.1.1_more_zones.csv") { // TestMoreZonesAgainstPROJ
		seen[r["epsg"]] = true
	}
	lines := zoneRows()
	for _, row := range lines {
		z, err := parseZone(row)
		if err != nil {
			t.Error(err)
		}
		if !seen[strconv.Itoa(z.code)] {
			t.Errorf("zone %d was not compared", z.code)
		}
	}
	if len(lines) < 2000 {
		t.Errorf("only %d zones", len(lines))
	}
}

type workedExample struct {
	ID         string
	Method     string
	Ellipsoid  map[string]any
	Parameters map[string]any
	Input      map[string]any
	Published  map[string]any
	Tolerance  map[string]float64
}

func (w workedExample) ellipsoid() Ellipsoid {
	a := w.Ellipsoid["a_m"].(float64)
	if f, ok := w.Ellipsoid["inv_f"].(float64); ok {
		return Ellipsoid{a, f}
	}
	if e2, ok := w.Ellipsoid["e2"].(float64); ok {
		return Ellipsoid{a, 1 / (1 - math.Sqrt(1-e2))}
	}
	return Ellipsoid{a, a / (a - w.Ellipsoid["b_m"].(float64))}
}

// Worked examples printed in IOGP Guidance Note 7-2, Snyder's PP 1395, DMA TM
// 8358.2 and by the Ordnance Survey.
func TestProjectionWorkedExamples(t *testing.T) {
	raw, err := os.ReadFile("../testdata/projections/published_examples.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []workedExample
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, w := range all {
		el, p := w.ellipsoid(), map[string]float64{}
		for k, v := range w.Parameters {
			p[k], _ = v.(float64)
		}
		at := func(m map[string]any, k string) float64 { v, _ := m[k].(float64); return v }
		var pr projection
		unit, x, y, tol := 1.0, "easting_m", "northing_m", w.Tolerance["m"]
		switch w.ID {
		case "gn7-2-tm-osgb", "snyder-pp1395-utm", "os-caister":
			pr = newTransverseMercator(el, p["lat0_deg"], p["lon0_deg"], p["k0"], p["fe_m"], p["fn_m"])
		case "gn7-2-lcc2sp-texas":
			unit, x, y, tol = USSurveyFootM, "easting_ftus", "northing_ftus", w.Tolerance["ftus"]*USSurveyFootM
			el.SemiMajorM = p["a_ftus"] * USSurveyFootM
			pr = newLambert2SP(el, p["lat_f_deg"], p["lon_f_deg"], p["lat1_deg"], p["lat2_deg"], p["ef_ftus"]*unit, p["nf_ftus"]*unit)
		case "snyder-pp1395-lcc":
			pr = newLambert2SP(el, p["lat_f_deg"], p["lon_f_deg"], p["lat1_deg"], p["lat2_deg"], p["ef_m"], p["nf_m"])
		case "gn7-2-lcc1sp-jamaica":
			pr = newLambert1SP(el, p["lat0_deg"], p["lon0_deg"], p["k0"], p["fe_m"], p["fn_m"])
		case "gn7-2-webmerc":
			pr = webMercator{}
		case "dmatm8358.2-utm-inverse-1", "dmatm8358.2-utm-inverse-2", "dmatm8358.2-utm-inverse-3":
			pr = newTransverseMercator(el, 0, p["zone"]*6-183, 0.9996, 500000, 0)
			got := pr.inverse(at(w.Input, "easting_m"), at(w.Input, "northing_m"))
			if math.Abs(got.LonDeg-at(w.Published, "lon_deg")) > w.Tolerance["deg"] || math.Abs(got.LatDeg-at(w.Published, "lat_deg")) > w.Tolerance["deg"] {
				t.Errorf("%s: %v, want %v", w.ID, got, w.Published)
			}
			checked++
			continue
		case "gn7-2-geographic-geocentric":
			g := el.toGeocentric(LonLat{at(w.Input, "lon_deg"), at(w.Input, "lat_deg")}, at(w.Input, "h_m"))
			if d := math.Hypot(math.Hypot(g.x-at(w.Published, "x_m"), g.y-at(w.Published, "y_m")), g.z-at(w.Published, "z_m")); d > tol {
				t.Errorf("%s: off %g m", w.ID, d)
			}
			ll, h := el.fromGeocentric(g)
			if math.Abs(ll.LatDeg-at(w.Input, "lat_deg")) > 1e-13 || math.Abs(h-at(w.Input, "h_m")) > 1e-8 {
				t.Errorf("%s: came back as %v, %g m", w.ID, ll, h)
			}
			checked++
			continue
		default:
			continue // methods that loamline has no use for
		}
		e, n := pr.forward(LonLat{at(w.Input, "lon_deg"), at(w.Input, "lat_deg")})
		if math.Abs(e-at(w.Published, x)*unit) > tol || math.Abs(n-at(w.Published, y)*unit) > tol {
			t.Errorf("%s: %.4f, %.4f m, want %v", w.ID, e, n, w.Published)
		}
		checked++
	}
	if checked != 11 {
		t.Errorf("%d examples checked", checked)
	}
}

func TestLookupCRSErrors(t *testing.T) {
	for name, want := range map[string]string{
		"":           "not an EPSG code",
		"utm 18":     "not an EPSG code",
		"ESRI:102":   "only EPSG codes",
		"EPSG:-5":    "not an EPSG code",
		"EPSG:99999": "EPSG:99999",
	} {
		if _, err := LookupCRS(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want one with %q", name, err, want)
		}
	}
}

func TestCRSRefusals(t *testing.T) {
	web := mustCRS(t, "EPSG:3857")
	if web.Writable() == nil || web.Caution == "" {
		t.Error("Web Mercator must be read only, with a caution")
	}
	if mustCRS(t, "epsg:27700").Caution == "" {
		t.Error("British National Grid must say how good it is")
	}
	if _, _, err := mustCRS(t, "4326").Project(LonLat{1, 2}); err == nil {
		t.Error("a geographic system projected")
	}
	utm := mustCRS(t, "EPSG:32618")
	if _, err := utm.Unproject(math.NaN(), 0); err == nil {
		t.Error("NaN is a place")
	}
	// Feet taken for metres: far outside the zone, and said so.
	p, err := mustCRS(t, "EPSG:32118").Unproject(984250*3.28, 200000*3.28)
	if err == nil && mustCRS(t, "EPSG:32118").Covers(p) {
		t.Error("a position in the wrong unit passed as inside its zone")
	}
}
