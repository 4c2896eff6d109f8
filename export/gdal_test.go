package export

import (
	"math"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline/export/internal/sample"
	"loamline/trace"
)

func needGDAL(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (Debian: gdal-bin): nothing is read with GDAL")
	}
}

// ogr runs a query through GDAL's SQLite dialect, with GEOS behind it, and
// returns the fields of each row by name. A warning fails the test.
func ogr(t *testing.T, path, sql string) []map[string]string {
	t.Helper()
	return ogrRun(t, path, "-dialect", "SQLite", "-sql", sql)
}

func ogrRun(t *testing.T, path string, args ...string) []map[string]string {
	t.Helper()
	out, err := exec.Command("ogrinfo", append([]string{"-ro", "-q", path}, args...)...).CombinedOutput()
	if err != nil || strings.Contains(string(out), "Warning") || strings.Contains(string(out), "ERROR") {
		t.Fatalf("ogrinfo %s: %v\n%s", path, err, out)
	}
	var rows []map[string]string
	for _, line := range strings.Split(string(out), "\n") {
		if strings.HasPrefix(line, "OGRFeature") {
			rows = append(rows, map[string]string{})
		}
		if m := ogrField.FindStringSubmatch(line); m != nil && len(rows) > 0 {
			rows[len(rows)-1][m[1]] = m[2]
		}
	}
	return rows
}

var ogrField = regexp.MustCompile(`^  (.+?) \(\w+(?:\(\w+\))?\) = (.*)$`)

func ogrNumber(t *testing.T, rows []map[string]string, field string) float64 {
	t.Helper()
	if len(rows) != 1 {
		t.Fatalf("%d rows", len(rows))
	}
	v, err := strconv.ParseFloat(rows[0][field], 64)
	if err != nil {
		t.Fatalf("%s: %v", field, err)
	}
	return v
}

// wantCounts counts the features of a role in the sheet itself.
func wantCounts(s *trace.Sheet) map[string]int {
	want := map[string]int{}
	for _, l := range s.Lines {
		want["reading"] += len(l.Readings)
		want["centerline"] += len(l.Centerline.Parts)
		want["tolerance_zone"]++
		want["caution_zone"]++
		for _, f := range l.Findings {
			want[f.Role()]++
		}
	}
	return want
}

// GDAL reads the goldens and finds the same counts, lengths and areas. Lengths
// are geodesic, on the ellipsoid (SpatiaLite's ST_Length with use_ellipsoid);
// the plane's metres are ground metres to 1.3e-6.
func TestGDALReadsTheGeoJSON(t *testing.T) {
	needGDAL(t)
	path, _ := filepath.Abs("testdata/sample.geojson")
	s := sample.Sheet()
	for role, want := range wantCounts(s) {
		got := ogrNumber(t, ogr(t, path, "SELECT COUNT(*) AS n FROM sample WHERE role = '"+role+"'"), "n")
		if int(got) != want {
			t.Errorf("%s: GDAL counts %v, want %d", role, got, want)
		}
	}
	if valid := ogrNumber(t, ogr(t, path, "SELECT MIN(ST_IsValid(geometry)) AS v FROM sample WHERE geometry IS NOT NULL"), "v"); valid != 1 {
		t.Error("GEOS finds an invalid geometry")
	}
	for _, l := range s.Lines {
		name := strings.ReplaceAll(l.Setup.Name, "'", "''")
		got := ogrNumber(t, ogr(t, path, "SELECT SUM(ST_Length(geometry, 1)) AS m FROM sample WHERE role = 'centerline' AND line = '"+name+"'"), "m")
		if want := l.Centerline.TracedM(); math.Abs(got-want) > 0.005 {
			t.Errorf("%s: GDAL measures %.3f m, want %.3f", l.Setup.Name, got, want)
		}
		area := ogrNumber(t, ogr(t, path, "SELECT ST_Area(geometry, 1) AS a FROM sample WHERE role = 'tolerance_zone' AND line = '"+name+"'"), "a")
		if want := writtenArea(l); math.Abs(area-want) > 0.001*want {
			t.Errorf("%s: GDAL measures %.3f m², want %.3f", l.Setup.Name, area, want)
		}
	}
}

// writtenArea is the area of a line's tolerance zone, whose edge is written
// roundingM farther out all the way round.
func writtenArea(l trace.Line) float64 {
	z := l.Tolerance
	sum := roundingM * 2 * (l.Centerline.TracedM() + z.HalfWidthM)
	for _, poly := range z.Area {
		for _, r := range poly {
			for i := 1; i < len(r); i++ {
				sum += (r[i-1][0]*r[i][1] - r[i-1][1]*r[i][0]) / 2
			}
		}
	}
	return sum
}

// GDAL opens KML, GPX and CSV without a complaint and finds what was written.
func TestGDALReadsTheOthers(t *testing.T) {
	needGDAL(t)
	s := sample.Sheet()
	path, _ := filepath.Abs("testdata/sample.kml")
	got := ogrNumber(t, ogr(t, path, `SELECT COUNT(*) AS n FROM "W-1, potable water (W)" WHERE role = 'centerline'`), "n")
	if int(got) != len(s.Lines[0].Centerline.Parts) {
		t.Errorf("KML: %v centerlines of W-1", got)
	}
	path, _ = filepath.Abs("testdata/sample.gpx")
	if n := ogrNumber(t, ogr(t, path, "SELECT COUNT(*) AS n FROM tracks"), "n"); int(n) != 4 {
		t.Errorf("GPX: %v tracks", n)
	}
	path, _ = filepath.Abs("testdata/sample-readings.csv")
	n := ogrNumber(t, ogr(t, path, `SELECT COUNT(*) AS n FROM "sample-readings"`), "n")
	if int(n) != wantCounts(s)["reading"] {
		t.Errorf("CSV: %v readings", n)
	}
}
