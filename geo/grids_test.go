package geo

import (
	"math"
	"strings"
	"testing"
)

// Worked examples that agencies print for their own grids, without a shift of
// datum.
func TestNationalGridsWorkedExamples(t *testing.T) {
	rows := readTable(t, "projections/published_grids.csv")
	if len(rows) != 17 {
		t.Errorf("%d examples", len(rows))
	}
	for _, r := range rows {
		c := mustCRS(t, r["epsg"])
		p := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		checkGrid(t, c, p, num(t, r["east_m"]), num(t, r["north_m"]), num(t, r["tolerance_m"]))
	}
}

// The oblique Mercator example of IOGP 373-7-2, Timbalai 1948 / R.S.O. Borneo,
// which prints the same figures for both variants at the false origin of each.
func TestHotineWorkedExample(t *testing.T) {
	everest := Ellipsoid{6377298.556, 300.8017}
	p := LonLat{115 + 48/60.0 + 19.8196/3600, 5 + 23/60.0 + 14.1129/3600}
	azimuth, skew := 53+18/60.0+56.9537/3600, 53+7/60.0+48.3685/3600
	for _, h := range []*hotine{
		newHotine(everest, 4, 115, azimuth, skew, 0.99984, 0, 0, false),
		newHotine(everest, 4, 115, azimuth, skew, 0.99984, 590476.87, 442857.65, true),
	} {
		if e, n := h.forward(p); math.Hypot(e-679245.73, n-596562.78) > 0.012 {
			t.Errorf("%.3f, %.3f", e, n)
		}
	}
}

// Two points in each of the systems that came with the national grids, computed
// with PROJ 9.1.1.
func TestMoreZonesAgainstPROJ(t *testing.T) {
	rows := readTable(t, "projections/proj_9.1.1_more_zones.csv")
	worst := 0.0
	for _, r := range rows {
		c := mustCRS(t, r["epsg"])
		p := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		e, n := num(t, r["easting"])*c.UnitM, num(t, r["northing"])*c.UnitM
		checkGrid(t, c, p, e, n, 1e-4)
		x, y, _ := c.Project(p)
		worst = math.Max(worst, math.Hypot(x-e, y-n))
		if !c.Holds(p) {
			t.Errorf("%s doesn't hold %v", c.ID(), p)
		}
	}
	if len(rows) < 370 {
		t.Errorf("%d points", len(rows))
	}
	t.Logf("largest difference %.2g m", worst)
}

// A pole is a place on the grids about it.
func TestPolarGridsAtThePole(t *testing.T) {
	for code, lat := range map[string]float64{"5041": 90, "5042": -90, "3413": 90, "3031": -90} {
		c := mustCRS(t, code)
		e, n, err := c.Project(LonLat{0, lat})
		if err != nil {
			t.Error(err)
			continue
		}
		p, err := c.Unproject(e, n)
		if err != nil || math.Abs(p.LatDeg-lat) > 1e-11 {
			t.Errorf("%s: %v, %v", code, p, err)
		}
	}
}

// What a system says of itself where its metres or its frame need a word.
func TestGridCautions(t *testing.T) {
	for code, want := range map[string]string{"28992": "RDNAPTRANS", "27700": "OSTN15", "31467": "BeTA2007", "3035": "made for areas"} {
		if c := mustCRS(t, code); !strings.Contains(c.Caution, want) {
			t.Errorf("%s: %q says nothing of %q", code, c.Caution, want)
		}
	}
	if c := mustCRS(t, "25832"); c.Caution != "" {
		t.Errorf("%s: %q", c.ID(), c.Caution)
	}
}
