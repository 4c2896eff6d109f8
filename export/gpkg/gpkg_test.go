package gpkg

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/table"
	"loamline.example/geo"
	"loamline.example/trace"
)

// writePackage writes a GeoPackage under a name that a URI must not take apart.
func writePackage(t testing.TB, s *trace.Sheet, opt Options) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job 1 #?.gpkg")
	if err := Write(path, s, opt); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestGeoPackageSameBytes(t *testing.T) {
	a, err := os.ReadFile(writePackage(t, sample.EveryKind(), Options{}))
	if err != nil {
		t.Fatal(err)
	}
	b, _ := os.ReadFile(writePackage(t, sample.EveryKind(), Options{}))
	if !bytes.Equal(a, b) {
		t.Error("the same sheet gives other bytes")
	}
	if !bytes.HasPrefix(a, []byte("SQLite format 3\x00")) || string(a[68:72]) != "GPKG" {
		t.Error("requirements 1 and 2: header and application id")
	}
}

func TestGeoPackageConforms(t *testing.T) {
	for name, s := range map[string]*trace.Sheet{
		"every kind":   sample.EveryKind(),
		"antimeridian": sample.Moved(sample.EveryKind(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17}),
		"nothing":      {Name: "nothing", Plane: geo.NewPlane(geo.LonLat{})},
	} {
		t.Run(name, func(t *testing.T) { check.ConformsToGeoPackage(t, writePackage(t, s, Options{})) })
	}
}

// The script must be able to fail.
func TestGeoPackageConformanceScriptFindsAFault(t *testing.T) {
	path := writePackage(t, sample.Sheet(), Options{})
	db, err := openSQLite(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("UPDATE gpkg_contents SET last_change = 'yesterday'"); err != nil {
		t.Fatal(err)
	}
	db.Close()
	if exec.Command("/usr/bin/python3", "-c", "import osgeo_utils.samples.validate_gpkg").Run() != nil {
		t.Skip("GDAL's conformance script is not installed (Debian: python3-gdal)")
	}
	out, err := exec.Command("/usr/bin/python3", "-m", "osgeo_utils.samples.validate_gpkg", path).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "Req 15") {
		t.Errorf("no fault found: %s", out)
	}
}

func TestGDALReadsTheGeoPackage(t *testing.T) {
	check.NeedGDAL(t)
	s := sample.Sheet()
	path := writePackage(t, s, Options{})
	out, err := exec.Command("ogrinfo", "-ro", "-al", "-so", path).CombinedOutput()
	if err != nil || bytes.Contains(out, []byte("Warning")) || bytes.Contains(out, []byte("ERROR")) {
		t.Fatalf("%v\n%s", err, out)
	}
	query := func(sql, field string) float64 {
		t.Helper()
		return check.GDALNumber(t, check.GDAL(t, path, sql), field)
	}
	want := check.WantCounts(s)
	var counts, indexed, off []string
	for _, l := range layer.All() {
		counts = append(counts, "(SELECT COUNT(*) FROM "+l.Role+") AS "+l.Role)
		indexed = append(indexed, "HasSpatialIndex('"+l.Role+"', 'geom') AS "+l.Role)
		off = append(off, "(SELECT COUNT(*) FROM rtree_"+l.Role+"_geom) - (SELECT COUNT(*) FROM "+l.Role+" WHERE geom IS NOT NULL) AS "+l.Role)
	}
	all := func(of []string) string { return "SELECT " + strings.Join(of, ", ") } // at once: to start GDAL takes longest
	counted, hasIndex, isOff := check.GDAL(t, path, all(counts)), check.GDALRun(t, path, "-sql", all(indexed)), check.GDALRun(t, path, "-sql", all(off))
	for _, l := range layer.All() {
		if got := check.GDALNumber(t, counted, l.Role); int(got) != want[l.Role] {
			t.Errorf("%s: %v rows, want %d", l.Role, got, want[l.Role])
		}
		if got := check.GDALNumber(t, hasIndex, l.Role); got != 1 {
			t.Errorf("%s has no spatial index", l.Role)
		}
		if got := check.GDALNumber(t, isOff, l.Role); got != 0 {
			t.Errorf("%s: index is off by %v", l.Role, got)
		}
	}
	for _, l := range s.Lines {
		name := strings.ReplaceAll(l.Setup.Name, "'", "''")
		got := query("SELECT SUM(ST_Length(geom, 1)) AS m FROM centerline WHERE line = '"+name+"'", "m")
		if math.Abs(got-l.Centerline.TracedM()) > 0.005 {
			t.Errorf("%s: GDAL measures %.3f m, want %.3f", l.Setup.Name, got, l.Centerline.TracedM())
		}
		area := query("SELECT ST_Area(geom, 1) AS a FROM tolerance_zone WHERE line = '"+name+"'", "a")
		if want := check.WrittenArea(l); math.Abs(area-want) > 0.001*want {
			t.Errorf("%s: GDAL measures %.3f m², want %.3f", l.Setup.Name, area, want)
		}
	}
	if got := query("SELECT MIN(ST_IsValid(geom)) AS v FROM caution_zone", "v"); got != 1 {
		t.Error("GEOS finds an invalid zone")
	}
	// The vertices of the profile are those of the lines.
	if got := query("SELECT (SELECT SUM(ST_NumPoints(geom)) FROM centerline) - (SELECT COUNT(*) FROM centerline_vertex) AS d", "d"); got != 0 {
		t.Errorf("%v vertices too many", got)
	}
}

// Other systems: PROJ, through GDAL, brings the coordinates back to where the
// GeoJSON has them. NAD83(2011) lies 1.339 m from ITRF2014 here at 2026.36 (cs2cs of
// PROJ 9.1.1, EPSG:7912 to EPSG:6319), which the null transformation that GDAL
// takes leaves in, so that such a difference is what must come out.
func TestGeoPackageInOtherSystems(t *testing.T) {
	check.NeedGDAL(t)
	s := sample.Sheet()
	want := s.Plane.LonLat(s.Lines[0].Centerline.Parts[0].Vertices[0].Pos)
	for _, c := range []struct {
		crs     string
		offM    float64
		lengthM float64 // of one unit
	}{{"EPSG:32619", 0, 1}, {"EPSG:6348", 1.339, 1}, {"EPSG:3614", 1.339, geo.USSurveyFootM}} {
		frame, err := geo.NewFrame(c.crs, "", 2026.36)
		if err != nil {
			t.Fatal(err)
		}
		path := writePackage(t, s, Options{Frame: frame})
		check.ConformsToGeoPackage(t, path)
		row := check.GDAL(t, path, "SELECT ST_X(ST_Transform(geom, 4326)) AS lon, ST_Y(ST_Transform(geom, 4326)) AS lat FROM centerline_vertex WHERE fid = 1")
		at := geo.LonLat{LonDeg: check.GDALNumber(t, row, "lon"), LatDeg: check.GDALNumber(t, row, "lat")}
		if off := s.Plane.XY(at).Dist(s.Plane.XY(want)); math.Abs(off-c.offM) > 0.01 {
			t.Errorf("%s: %.3f m off, want %.2f", c.crs, off, c.offM)
		}
		got := check.GDALNumber(t, check.GDAL(t, path, "SELECT SUM(ST_Length(geom)) AS n FROM centerline WHERE line = 'G-1'"), "n") * c.lengthM
		if w := s.Lines[1].Centerline.TracedM(); math.Abs(got/w-1) > 1e-3 {
			t.Errorf("%s: grid length %.3f m, want about %.3f", c.crs, got, w)
		}
	}
	mercator, err := geo.NewFrame("EPSG:3857", "", 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(filepath.Join(t.TempDir(), "m.gpkg"), s, Options{Frame: mercator}); err == nil {
		t.Error("Web Mercator is written")
	}
}

// The GeoPackage and the GeoJSON hold the same positions and values.
func TestGeoPackageAgreesWithGeoJSON(t *testing.T) {
	check.NeedGDAL(t)
	dir := t.TempDir()
	path := writePackage(t, sample.Sheet(), Options{})
	out := filepath.Join(dir, "back.csv")
	cmd := exec.Command("ogr2ogr", "-f", "CSV", "-lco", "GEOMETRY=AS_XY", out, path, "reading")
	if b, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, b)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	got := check.CSVRows(t, text)
	want := check.CSVRows(t, check.Write(t, sample.Sheet(), table.Readings))
	if len(got) != len(want) {
		t.Fatalf("%d readings, want %d", len(got), len(want))
	}
	for i := range got {
		for _, f := range []string{"line", "point", "row", "status", "reason", "station_m", "offset_m", "depth_m"} {
			if got[i][f] != want[i][f] && got[i][f] != strings.TrimSuffix(want[i][f], ".0") {
				t.Errorf("reading %d, %s: %q, want %q", i, f, got[i][f], want[i][f])
			}
		}
		for _, f := range [][2]string{{"X", "lon"}, {"Y", "lat"}} {
			a, _ := strconv.ParseFloat(got[i][f[0]], 64)
			b, _ := strconv.ParseFloat(want[i][f[1]], 64)
			if math.Abs(a-b) > 1e-9 {
				t.Errorf("reading %d: %s %v, want %v", i, f[1], a, b)
			}
		}
	}
}

// Every table has a default style that is whole XML and tells every value that
// its attribute can take.
func TestGeoPackageStyles(t *testing.T) {
	for _, l := range layer.AllWithVertices() {
		text := layerStyle(l)
		dec := xml.NewDecoder(strings.NewReader(text))
		for {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", l.Role, err)
			}
		}
		attr, symbols := formOf(l).by, formOf(l).symbols
		for _, c := range append(append([]layer.Column(nil), layer.Common...), l.Columns...) {
			if c.Name != attr {
				continue
			}
			for _, e := range c.Enum {
				found := false
				for _, s := range symbols {
					found = found || s.value == e
				}
				if !found {
					t.Errorf("%s: no symbol for %s", l.Role, e)
				}
			}
			attr = ""
		}
		if attr != "" {
			t.Errorf("%s: no column %s", l.Role, attr)
		}
	}
}

func BenchmarkGeoPackage100kReadings(b *testing.B) {
	s := sample.WithReadings(100_000)
	for b.Loop() {
		writePackage(b, s, Options{})
	}
}
