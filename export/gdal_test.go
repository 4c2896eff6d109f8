package export

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
)

// GDAL reads the goldens and finds the same counts, lengths and areas. Lengths
// are geodesic, on the ellipsoid (SpatiaLite's ST_Length with use_ellipsoid);
// the plane's metres are ground metres to 1.3e-6.
func TestGDALReadsTheGeoJSON(t *testing.T) {
	check.NeedGDAL(t)
	path, _ := filepath.Abs("geojson/testdata/sample.geojson")
	s := sample.Sheet()
	wants := check.WantCounts(s)
	var sums []string
	for role := range wants {
		sums = append(sums, "SUM(role = '"+role+"') AS "+role)
	}
	counted := check.GDAL(t, path, "SELECT "+strings.Join(sums, ", ")+" FROM sample") // all at once: to start GDAL takes longest
	for role, want := range wants {
		if got := check.GDALNumber(t, counted, role); int(got) != want {
			t.Errorf("%s: GDAL counts %v, want %d", role, got, want)
		}
	}
	if valid := check.GDALNumber(t, check.GDAL(t, path, "SELECT MIN(ST_IsValid(geometry)) AS v FROM sample WHERE geometry IS NOT NULL"), "v"); valid != 1 {
		t.Error("GEOS finds an invalid geometry")
	}
	for _, l := range s.Lines {
		name := strings.ReplaceAll(l.Setup.Name, "'", "''")
		got := check.GDALNumber(t, check.GDAL(t, path, "SELECT SUM(ST_Length(geometry, 1)) AS m FROM sample WHERE role = 'centerline' AND line = '"+name+"'"), "m")
		if want := l.Centerline.TracedM(); math.Abs(got-want) > 0.005 {
			t.Errorf("%s: GDAL measures %.3f m, want %.3f", l.Setup.Name, got, want)
		}
		area := check.GDALNumber(t, check.GDAL(t, path, "SELECT ST_Area(geometry, 1) AS a FROM sample WHERE role = 'tolerance_zone' AND line = '"+name+"'"), "a")
		if want := check.WrittenArea(l); math.Abs(area-want) > 0.001*want {
			t.Errorf("%s: GDAL measures %.3f m², want %.3f", l.Setup.Name, area, want)
		}
	}
}

// GDAL opens KML, GPX and CSV without a complaint and finds what was written.
func TestGDALReadsTheOthers(t *testing.T) {
	check.NeedGDAL(t)
	s := sample.Sheet()
	path, _ := filepath.Abs("kml/testdata/sample.kml")
	got := check.GDALNumber(t, check.GDAL(t, path, `SELECT COUNT(*) AS n FROM "W-1, potable water (W)" WHERE role = 'centerline'`), "n")
	if int(got) != len(s.Lines[0].Centerline.Parts) {
		t.Errorf("KML: %v centerlines of W-1", got)
	}
	path, _ = filepath.Abs("gpx/testdata/sample.gpx")
	if n := check.GDALNumber(t, check.GDAL(t, path, "SELECT COUNT(*) AS n FROM tracks"), "n"); int(n) != 4 {
		t.Errorf("GPX: %v tracks", n)
	}
	path, _ = filepath.Abs("table/testdata/sample-readings.csv")
	n := check.GDALNumber(t, check.GDAL(t, path, `SELECT COUNT(*) AS n FROM "sample-readings"`), "n")
	if int(n) != check.WantCounts(s)["reading"] {
		t.Errorf("CSV: %v readings", n)
	}
}
