//go:build proj

package geo

import (
	"math"
	"strings"
	"testing"
)

// Conus Albers (EPSG:5070), which only PROJ knows here, against points computed
// with its own command line tool.
func TestOtherCRSByPROJ(t *testing.T) {
	n := 0
	for _, r := range readTable(t, "projections/proj_9.1.1_reference_points.csv") {
		if r["epsg"] != "5070" {
			continue
		}
		c := mustCRS(t, "EPSG:5070")
		e, nn, err := c.Project(LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])})
		// Between WGS 84 and NAD83 PROJ takes no shift where no grid is installed.
		if err != nil || math.Hypot(e-num(t, r["easting"]), nn-num(t, r["northing"])) > 2 {
			t.Errorf("%v: %.3f, %.3f, %v", r, e, nn, err)
		}
		back, err := c.Unproject(e, nn)
		if err != nil || math.Abs(back.LonDeg-num(t, r["lon_deg"])) > 1e-9 || math.Abs(back.LatDeg-num(t, r["lat_deg"])) > 1e-9 {
			t.Errorf("%v: came back as %v, %v", r, back, err)
		}
		n++
	}
	if n == 0 {
		t.Error("no points")
	}
	f, err := NewFrame("EPSG:5070", "", 0)
	if err != nil || !strings.Contains(f.Words(LonLat{-100, 40}).In(Metric), "PROJ library") {
		t.Errorf("%v, %v", f.Words(LonLat{-100, 40}).In(Metric), err)
	}
	// NAD27 / Texas South Central in US survey feet: IOGP 373-7-2's worked example of
	// Lambert conic conformal (2SP). Its degrees are on NAD27, within 0.001° (a hundred
	// metres) of WGS 84 there; feet taken for metres would be off by degrees.
	texas := mustCRS(t, "EPSG:32040")
	p, err := texas.Unproject(2963503.91*texas.UnitM, 254759.80*texas.UnitM)
	if texas.Unit != "ftUS" || err != nil || math.Hypot(p.LonDeg+96, p.LatDeg-28.5) > 0.001 {
		t.Errorf("EPSG:32040 in %q: %v, %v", texas.Unit, p, err)
	}
	if _, err := LookupCRS("EPSG:999999"); err == nil {
		t.Error("EPSG:999999 was found")
	}
}
