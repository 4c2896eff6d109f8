package gpkg

import (
	"path/filepath"
	"testing"
	"time"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
)

// A GIS styles by single values and sorts by real days: GDAL reads the day as a
// date, an instant as one, and the extremes of depth and band as numbers.
func TestGDALReadsDaysAndExtremes(t *testing.T) {
	check.NeedGDAL(t)
	path := filepath.Join(t.TempDir(), "job.gpkg")
	s := sample.Sheet()
	s.Lines[0].Readings[0].Time = time.Date(2026, 5, 12, 9, 31, 13, 250e6, time.FixedZone("", 7200))
	if err := Write(path, s, Options{}); err != nil {
		t.Fatal(err)
	}
	row := check.GDALRun(t, path, "-sql", "SELECT date, depth_min_m, depth_max_m, horizontal_95_max_m FROM centerline WHERE line = 'W-1' AND part = 1")
	if len(row) != 1 || row[0]["date"] != "2026/05/12" { // as GDAL writes a date; a text would come as it is
		t.Fatalf("%v", row)
	}
	low, high := check.GDALNumber(t, row, "depth_min_m"), check.GDALNumber(t, row, "depth_max_m")
	if low != 1.04 || high != 1.24 {
		t.Errorf("depths from %g to %g", low, high)
	}
	row = check.GDALRun(t, path, "-sql", "SELECT time FROM reading WHERE time IS NOT NULL")
	if len(row) != 1 || row[0]["time"] != "2026/05/12 07:31:13.250+00" {
		t.Errorf("%v", row)
	}
}
