package intake

import (
	"encoding/binary"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// curves are what a survey of a city is drawn with: a bend between two straights,
// a whole circle, an S of two arcs, arcs about a grid's origin and of a great
// radius, and a line that is given as an arc; in NAD83(2011) / California zone 5
// (ftUS).
const curves = `id;WKT
bend;"COMPOUNDCURVE ((6480000 1840000,6480100 1840000),CIRCULARSTRING (6480100 1840000,6480135.355339 1840014.644661,6480150 1840050),(6480150 1840050,6480150 1840200))"
circle;"CIRCULARSTRING (6480300 1840000,6480340 1840030,6480300 1840000)"
bends;"CIRCULARSTRING (6480400 1840000,6480410 1840010,6480420 1840000,6480430 1839990,6480440 1840000)"
wide;"CIRCULARSTRING (6480000 1839000,6481000 1839010,6482000 1839000)"
straight;"CIRCULARSTRING (6480500 1840000,6480550 1840050,6480600 1840100)"
two;"MULTICURVE ((6480700 1840000,6480750 1840000),CIRCULARSTRING (6480700 1840100,6480710 1840090,6480720 1840100))"
high;"CIRCULARSTRING Z (6480800 1840000 310,6480810 1840010 311,6480820 1840000 312)"
`

const curvedArea = `id;WKT
tank;"CURVEPOLYGON (CIRCULARSTRING (6480000 1840100,6480030 1840100,6480000 1840100))"
`

// gdalCurves has GDAL write a table of well-known text as a GeoPackage.
func gdalCurves(t *testing.T, name, table string, args ...string) string {
	t.Helper()
	from, to := filepath.Join(t.TempDir(), name+".csv"), filepath.Join(t.TempDir(), name+".gpkg")
	if err := os.WriteFile(from, []byte(table), 0o644); err != nil {
		t.Fatal(err)
	}
	args = append([]string{"-f", "GPKG", "-nln", name, "-a_srs", "EPSG:6424", "-oo", "GEOM_POSSIBLE_NAMES=WKT", "-oo", "KEEP_GEOM_COLUMNS=NO", "-oo", "SEPARATOR=SEMICOLON"}, args...)
	if out, err := exec.Command("ogr2ogr", append(args, to, from)...).CombinedOutput(); err != nil {
		t.Fatalf("ogr2ogr: %v\n%s", err, out)
	}
	return to
}

// linesByName are the records of a layer, pieces of one name together, in a plane.
func linesByName(t *testing.T, path string, plane geo.Plane) map[string][][]geo.XY {
	t.Helper()
	s := surveyedJob()
	if err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(path), NameColumn: "id"}); err != nil || len(s.Problems) > 0 {
		t.Fatalf("%v, %+v", err, s.Problems)
	}
	out := map[string][][]geo.XY{}
	for _, r := range s.Records {
		var line []geo.XY
		for _, p := range r.Path {
			line = append(line, plane.XY(p))
		}
		out[r.Name] = append(out[r.Name], line)
	}
	return out
}

// farthest is how far the positions of some lines lie from others at most.
func farthest(from, to [][]geo.XY) (offM float64) {
	for _, line := range from {
		for _, p := range line {
			near := math.Inf(1)
			for _, other := range to {
				near = math.Min(near, geo.NewPolyline(other).Nearest(p).At.Dist(p))
			}
			offM = math.Max(offM, near)
		}
	}
	return offM
}

// Against GDAL, which makes lines of the same curves in steps of a hundredth of a
// degree: ours lie within the stated error of them, and their corners on the curve.
func TestCurvesAgainstGDAL(t *testing.T) {
	needGDAL(t)
	frame, err := setting.Frame(surveyedJob().Job)
	if err != nil {
		t.Fatal(err)
	}
	at, err := frame.Unproject(6480400*geo.USSurveyFootM, 1840000*geo.USSurveyFootM)
	if err != nil {
		t.Fatal(err)
	}
	plane := geo.NewPlane(at)
	ours := linesByName(t, gdalCurves(t, "curves", curves), plane)
	fine := linesByName(t, gdalCurves(t, "curves", curves, "-nlt", "CONVERT_TO_LINEAR", "--config", "OGR_ARC_STEPSIZE", "0.01"), plane)
	if len(ours) != 7 || len(fine) != 7 {
		t.Fatalf("%d and %d lines", len(ours), len(fine))
	}
	for name := range fine {
		if len(ours[name]) != len(fine[name]) {
			t.Errorf("%s: %d pieces, GDAL has %d", name, len(ours[name]), len(fine[name]))
		}
		if off := farthest(fine[name], ours[name]); off > 0.005+1e-4 {
			t.Errorf("%s: the curve lies %.4f m off its chords", name, off)
		}
		if off := farthest(ours[name], fine[name]); off > 1e-3 {
			t.Errorf("%s: a corner lies %.4f m off the curve", name, off)
		}
	}
	if n := len(ours["straight"][0]); n != 3 {
		t.Errorf("a line of three positions has %d", n)
	}
	if n := len(ours["circle"][0]); n < 20 || n > 100 {
		t.Errorf("a circle of 25 ft has %d corners", n)
	}
	if off := ours["circle"][0][0].Dist(ours["circle"][0][len(ours["circle"][0])-1]); off != 0 {
		t.Errorf("the circle is open by %g m", off)
	}

	area := gdalCurves(t, "tank", curvedArea)
	s := surveyedJob()
	if err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(area), Background: true}); err != nil || len(s.Records) != 1 || len(s.Records[0].Path) < 20 {
		t.Errorf("background: %v, %+v", err, s.Records)
	}
	var p *trace.Problem
	if err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(area)}); !errors.As(err, &p) || !strings.Contains(p.Cause, "holds 1 areas") {
		t.Errorf("areas for lines: %v", err)
	}
}

// A curve that is none is left out with what is wrong with it, and never becomes
// more corners than memory holds.
func TestCurvesThatAreNone(t *testing.T) {
	frame, err := geo.NewFrame("EPSG:6424", "", 2026)
	if err != nil {
		t.Fatal(err)
	}
	header := func(kind uint32, n int) []byte {
		return binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32([]byte{1}, kind), uint32(n))
	}
	positions := func(kind uint32, v ...float64) []byte {
		b := header(kind, len(v)/2)
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		return b
	}
	join := func(parts ...[]byte) (b []byte) {
		for _, p := range parts {
			b = append(b, p...)
		}
		return b
	}
	for _, tt := range []struct {
		name string
		wkb  []byte
		want error
	}{
		{"two positions", positions(8, 6480000, 1840000, 6480010, 1840000), errOddArc},
		{"four positions", positions(8, 6480000, 1840000, 6480010, 1840000, 6480020, 1840010, 6480030, 1840000), errOddArc},
		{"as wide as the earth", positions(8, 6480000, 1840000, 6480000+1e13, 1840000, 6480000, 1840000), errArcTooWide},
		{"pieces apart", join(header(9, 2), positions(2, 6480000, 1840000, 6480010, 1840000), positions(2, 6480020, 1840000, 6480030, 1840000)), errBrokenLine},
		{"cut short", positions(8, 6480000, 1840000, 6480010, 1840010, 6480020, 1840000)[:50], errShortWKB},
	} {
		if s := wkbShape(tt.wkb, frame, false); !errors.Is(s.err, tt.want) {
			t.Errorf("%s: %v", tt.name, s.err)
		}
	}
	if s := wkbShape(header(8, 0), frame, false); s.err != nil || s.kind != "no geometry" {
		t.Errorf("an empty one: %+v", s)
	}
}
