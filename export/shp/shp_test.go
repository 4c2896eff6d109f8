package shp

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

func unpacked(t *testing.T, s *trace.Sheet) (dir string) {
	t.Helper()
	text := check.Write(t, s, Write)
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		t.Fatal(err)
	}
	dir = t.TempDir()
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(f.Name)), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func surveyed(t *testing.T) *trace.Sheet {
	t.Helper()
	s := sample.Sheet()
	var err error
	if s.Output, err = geo.NewFrame("EPSG:3437", "NAD83(2011)", 2026.36); err != nil { // New Hampshire, US survey feet
		t.Fatal(err)
	}
	for i := range s.Lines[0].Centerline.Parts[0].Vertices {
		s.Lines[0].Centerline.Parts[0].Vertices[i].ElevM = 200 + 0.01*float64(i)
	}
	s.Lines[0].Setup.Name = "Straße 1"
	for i, f := range s.Lines[0].Findings {
		if b, ok := f.(finding.BleedOver); ok {
			b.Line = "Straße 1"
			s.Lines[0].Findings[i] = b
		}
	}
	return s
}

// GDAL reads every set: as many features as the sheet has, in the system that was
// asked for, with texts, days and heights, and areas that GEOS holds valid and of
// the size on the ground.
func TestGDALReadsTheShapefiles(t *testing.T) {
	check.NeedGDAL(t)
	s := surveyed(t)
	dir := unpacked(t, s)
	for role, want := range check.WantCounts(s) {
		if want == 0 {
			continue
		}
		rows := check.GDAL(t, filepath.Join(dir, role+".shp"), `SELECT COUNT(*) AS n FROM "`+role+`"`)
		if n := check.GDALNumber(t, rows, "n"); int(n) != want {
			t.Errorf("%s: %g features, want %d", role, n, want)
		}
	}
	line := check.GDAL(t, filepath.Join(dir, "centerline.shp"), `SELECT line, date, ST_Length(geometry) AS len, ST_X(ST_StartPoint(geometry)) AS x, ST_Y(ST_StartPoint(geometry)) AS y FROM centerline WHERE part = 1 AND line = 'Straße 1'`)
	if len(line) != 1 || line[0]["date"] != "2026/05/12" {
		t.Fatalf("%v", line)
	}
	p := s.Lines[0].Centerline.Parts[0]
	if got, want := check.GDALNumber(t, line, "len")*geo.USSurveyFootM, p.ToM()-p.FromM(); math.Abs(got-want) > 2e-4*want { // the grid's scale there is within 1:5000
		t.Errorf("%.3f m long, %.3f m on the ground", got, want)
	}
	x, y, err := s.Output.FromWGS84(s.Plane.LonLat(p.Vertices[0].Pos))
	if err != nil {
		t.Fatal(err)
	}
	if off := math.Hypot(check.GDALNumber(t, line, "x")-x, check.GDALNumber(t, line, "y")-y); off > 1e-3 {
		t.Errorf("it begins %.4f ft off", off)
	}
	solid := check.GDAL(t, filepath.Join(dir, "centerline_3d.shp"), `SELECT ST_MinZ(geometry) AS low, ST_MaxZ(geometry) AS high FROM centerline_3d`)
	// Before the suspected stretch and from behind it to before the gap: neither it nor the
	// gap's edge is drawn in space.
	for i, want := range [][2]float64{{200, 200.05}, {200.11, 200.19}} {
		if len(solid) != 2 || math.Abs(check.GDALNumber(t, solid[i:i+1], "low")-want[0]) > 1e-9 || math.Abs(check.GDALNumber(t, solid[i:i+1], "high")-want[1]) > 1e-9 {
			t.Fatalf("heights %v", solid)
		}
	}
	area := check.GDAL(t, filepath.Join(dir, "tolerance_zone.shp"), `SELECT MIN(ST_IsValid(geometry)) AS ok, SUM(ST_Area(geometry)) AS area FROM tolerance_zone`)
	want := 0.0
	for _, l := range s.Lines {
		want += check.WrittenArea(l)
	}
	if got := check.GDALNumber(t, area, "area") * geo.USSurveyFootM * geo.USSurveyFootM; check.GDALNumber(t, area, "ok") != 1 || math.Abs(got-want) > 1e-3*want {
		t.Errorf("zones of %.3f m², on the ground %.3f m²", got, want)
	}
}

// The .prj is read by GDAL as the system that it is: the dialect has no codes, and
// must not leave the frame open.
func TestGDALKnowsThePRJ(t *testing.T) {
	check.NeedGDAL(t)
	for code, want := range map[string][]string{"EPSG:3437": {`PROJCRS["NAD83 / New Hampshire (ftUS)"`, `DATUM["North American Datum 1983"`}, "EPSG:32619": {"UTM", `WGS`},
		"EPSG:4326": {`GEOGCRS`, "World Geodetic System 1984"}} {
		s := sample.Sheet()
		var err error
		if s.Output, err = geo.NewFrame(code, "", 2026.36); err != nil {
			t.Fatal(err)
		}
		out := strings.Join(gdalInfo(t, filepath.Join(unpacked(t, s), "centerline.shp")), "\n")
		for _, w := range want {
			if !strings.Contains(out, w) {
				t.Errorf("%s: GDAL does not say %s:\n%.600s", code, w, out)
			}
		}
	}
}

func TestShapefileColumns(t *testing.T) {
	for _, l := range layer.AllWithVertices() {
		tab := newTable(append(append([]layer.Column{}, layer.Common...), l.Columns...))
		seen := map[string]bool{}
		for i, n := range tab.names {
			if n == "" || len(n) > 10 || seen[n] {
				t.Errorf("%s: %s is called %q", l.Role, tab.columns[i].Name, n)
			}
			seen[n] = true
		}
	}
	if got := cut(strings.Repeat("ß", 200)); len(got) > maxText || !strings.HasSuffix(got, "ß…") {
		t.Errorf("cut to %d bytes: %q", len(got), got)
	}
	if a, b := check.Write(t, sample.EveryKind(), Write), check.Write(t, sample.EveryKind(), Write); !bytes.Equal(a, b) {
		t.Error("two zips of the same sheet differ")
	}
	for _, s := range []*trace.Sheet{sample.NothingUsable(), sample.LongNames()} {
		check.Write(t, s, Write)
	}
}

func gdalInfo(t *testing.T, path string) []string {
	t.Helper()
	out, err := exec.Command("ogrinfo", "-ro", "-so", "-al", path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return strings.Split(string(out), "\n")
}
