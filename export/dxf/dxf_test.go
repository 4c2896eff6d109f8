package dxf

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
)

func drawn(t *testing.T, s *trace.Sheet) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job.dxf")
	if err := os.WriteFile(path, check.Write(t, s, Write), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// surveyed is the sample in a plane system of its place, with elevations.
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
	return s
}

// GDAL reads the drawing: its layers, its lengths in feet of the ground, heights
// where they are known, and texts with characters beyond ASCII.
func TestGDALReadsTheDrawing(t *testing.T) {
	check.NeedGDAL(t)
	s := surveyed(t)
	s.Lines[0].Setup.Name = "Straße 1"
	path := drawn(t, s)
	rows := check.GDAL(t, path, "SELECT Layer, COUNT(*) AS n, SUM(ST_Length(geometry)) AS len, MAX(ST_Is3D(geometry)) AS solid FROM entities GROUP BY Layer")
	layers := map[string]map[string]string{}
	for _, r := range rows {
		layers[r["Layer"]] = r
	}
	for _, want := range []string{"WATER-CENTERLINE", "WATER-CENTERLINE-3D", "GAS-CENTERLINE", "COMMUNICATION-CENTERLINE", "WATER-TOLERANCE-ZONE", "WATER-CAUTION-ZONE",
		"WATER-BLEED-OVER", "WATER-GAP", "WATER-CROSSING", "WATER-READING", "WATER-RECORD", "WATER-TEXT", "NOTES"} {
		if layers[want] == nil {
			t.Errorf("no layer %s in %v", want, rows)
		}
	}
	lengthM := 0.0
	for _, p := range s.Lines[0].Centerline.Parts {
		lengthM += p.ToM() - p.FromM()
	}
	feet := check.GDALNumber(t, []map[string]string{layers["WATER-CENTERLINE"]}, "len")
	if got := feet * geo.USSurveyFootM; math.Abs(got-lengthM) > 2e-4*lengthM { // the grid's scale there is within 1:5000
		t.Errorf("the line is %.3f m long in the drawing, %.3f m on the ground", got, lengthM)
	}
	// Heights are in the model's unit.
	low := check.GDALNumber(t, check.GDAL(t, path, "SELECT MIN(ST_MinZ(geometry)) AS z FROM entities WHERE Layer = 'WATER-CENTERLINE-3D'"), "z")
	if math.Abs(low*geo.USSurveyFootM-200) > 1e-3 {
		t.Errorf("the lowest height is %.4f ft", low)
	}
	text := check.GDAL(t, path, "SELECT Text FROM entities WHERE Layer = 'WATER-TEXT' LIMIT 1")
	if len(text) == 0 || !strings.HasPrefix(text[0]["Text"], "Straße 1 at ") || !strings.Contains(text[0]["Text"], "±") {
		t.Errorf("texts %v", text)
	}
	// A corner of the line lies where geo puts it in feet.
	x, y, err := s.Output.FromWGS84(s.Plane.LonLat(s.Lines[1].Centerline.Parts[0].Vertices[0].Pos))
	if err != nil {
		t.Fatal(err)
	}
	row := check.GDAL(t, path, "SELECT ST_X(ST_StartPoint(geometry)) AS x, ST_Y(ST_StartPoint(geometry)) AS y FROM entities WHERE Layer = 'GAS-CENTERLINE'")
	if dx, dy := check.GDALNumber(t, row, "x")-x, check.GDALNumber(t, row, "y")-y; math.Hypot(dx, dy) > 1e-3 {
		t.Errorf("the gas line begins %.4f ft off", math.Hypot(dx, dy))
	}
}

// Without a plane system of its own a job is drawn in the UTM zone of its place;
// what is said of it stands in the drawing.
func TestDrawingWithoutASystem(t *testing.T) {
	warned := sample.Sheet()
	warned.OutputWords = geo.Plain("Common tools take WGS 84 and NAD83(2011) for the same when they reproject.")
	if !strings.Contains(string(check.Write(t, warned, Write)), warned.OutputWords.In(geo.Metric)) {
		t.Error("the drawing does not say what a reprojection would do")
	}
	text := string(check.Write(t, sample.Sheet(), Write))
	if !strings.Contains(text, "EPSG:32619 (WGS 84 / UTM zone 19N)") || !strings.Contains(text, "CHECK BEFORE DIGGING: W-1") {
		t.Error("the drawing does not say what it is")
	}
	if !bytes.Equal(check.Write(t, sample.Sheet(), Write), []byte(text)) {
		t.Error("two drawings of the same sheet differ")
	}
	for _, s := range []*trace.Sheet{sample.NothingUsable(), sample.LongNames(), sample.EveryKind()} {
		for i, l := range strings.Split(string(check.Write(t, s, Write)), "\r\n") {
			if len(l) > 255 || strings.ContainsFunc(l, func(r rune) bool { return r == 0x7f || r < ' ' }) {
				t.Errorf("line %d: %q", i+1, l)
			}
		}
	}
}
