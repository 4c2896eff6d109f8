package check

import (
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/place"
	"loamline.example/trace"
)

func NeedGDAL(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (Debian: gdal-bin): nothing is read with GDAL")
	}
}

// GDAL runs a query through GDAL's SQLite dialect, with GEOS behind it, and
// returns the fields of each row by name. A warning fails the test.
func GDAL(t *testing.T, path, sql string) []map[string]string {
	t.Helper()
	return GDALRun(t, path, "-dialect", "SQLite", "-sql", sql)
}

func GDALRun(t *testing.T, path string, args ...string) []map[string]string {
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
		if m := gdalField.FindStringSubmatch(line); m != nil && len(rows) > 0 {
			rows[len(rows)-1][m[1]] = m[2]
		}
	}
	return rows
}

var gdalField = regexp.MustCompile(`^  (.+?) \(\w+(?:\(\w+\))?\) = (.*)$`)

func GDALNumber(t *testing.T, rows []map[string]string, field string) float64 {
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

// WantCounts counts the features of a role in the sheet itself.
func WantCounts(s *trace.Sheet) map[string]int {
	want := map[string]int{}
	for _, l := range s.Lines {
		want[trace.RoleReading] += len(l.Readings)
		want[trace.RoleCenterline] += len(l.Centerline.Parts)
		want[trace.RoleToleranceZone]++
		want[trace.RoleCautionZone]++
		for _, f := range l.Findings {
			want[f.Role()]++
		}
	}
	return want
}

// WrittenArea is the area of a line's tolerance zone, whose edge is written
// roundingM farther out all the way round.
func WrittenArea(l trace.Line) float64 {
	z := l.Tolerance
	sum := place.RoundingM * 2 * (l.Centerline.TracedM() + z.HalfWidthM)
	for _, poly := range z.Area {
		for _, r := range poly {
			for i := 1; i < len(r); i++ {
				sum += (r[i-1][0]*r[i][1] - r[i-1][1]*r[i][0]) / 2
			}
		}
	}
	return sum
}
