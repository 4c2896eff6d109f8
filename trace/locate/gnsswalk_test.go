package locate_test

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// TestRealWalk fits a line through fixes that nobody here made: 1201 fixes of a
// low-cost receiver on a 20-minute walk, a fix a second, with the positions of
// an RTK receiver carried alongside (J. Beuchert, SnapperGPS: Collection of
// GNSS Signal Snapshots 2, University of Oxford 2023, doi:10.5287/ora-xq5b8xva7,
// CC BY 4.0; see testdata/SOURCES.md). The walk is taken for the line: there is
// no depth, no signal and nothing buried in it. Fixes are off by up to 127 m,
// and stretches walked out and back 20 to 50 m apart are drawn as one.
func TestRealWalk(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "gnss-walk")
	sheet := mapReal(t, dir)
	truth := realTruth(t, sheet.Plane, filepath.Join(dir, "w03_w04_w05_rtk_truth.csv"))
	line := sheet.Lines[0]

	var fixes, drawn, missed []float64
	inside := 0
	for _, r := range line.Readings {
		fixes = append(fixes, math.Abs(truth.Nearest(r.Pos).OffsetM))
	}
	for _, p := range line.Centerline.Parts {
		for _, v := range p.Vertices {
			d := math.Abs(truth.Nearest(v.Pos).OffsetM)
			drawn = append(drawn, d)
			if d <= v.Horizontal95M {
				inside++
			}
		}
	}
	course := line.Centerline.Polyline()
	for _, p := range truth.Points {
		missed = append(missed, math.Abs(course.Nearest(p).OffsetM))
	}
	t.Logf("fixes to the true walk: median %.1f m, 95 %% within %.1f m", at(fixes, 0.5), at(fixes, 0.95))
	t.Logf("drawn line to the true walk: median %.1f m, 95 %% within %.1f m, %.0f %% inside the band", at(drawn, 0.5), at(drawn, 0.95), 100*float64(inside)/float64(len(drawn)))
	t.Logf("true walk to the drawn line: median %.1f m, 95 %% within %.1f m", at(missed, 0.5), at(missed, 0.95))

	if at(drawn, 0.5) > at(fixes, 0.5) || at(drawn, 0.95) > at(fixes, 0.95)/2 {
		t.Error("the drawn line is no better than the fixes it is made of")
	}
	if at(missed, 0.5) > at(fixes, 0.5) {
		t.Error("the drawn line misses half of the walk")
	}
	if float64(inside) < 0.93*float64(len(drawn)) {
		t.Error("the band does not hold the true walk")
	}

	// The README tells both ways what is measured here.
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	held := fmt.Sprintf("%.0f %% of it is", 100*float64(inside)/float64(len(drawn)))
	if inside == len(drawn) {
		held = "all of it is"
	}
	if want := fmt.Sprintf("On real fixes (%d of a low-cost receiver on a walk, with centimetre truth; `testdata/gnss-walk`, run by `go test ./trace/locate -run RealWalk -v`) "+
		"the drawn line lies %.1f m (median) from the true walk, 95 %% within %.1f m, and the true walk %.1f m from the drawn line, 95 %% within %.1f m, where the fixes themselves have %.1f and %.1f m; %s inside its band.",
		len(fixes), at(drawn, 0.5), at(drawn, 0.95), at(missed, 0.5), at(missed, 0.95), at(fixes, 0.5), at(fixes, 0.95), held); !strings.Contains(string(readme), want) {
		t.Errorf("the README does not say %q", want)
	}
}

func mapReal(t *testing.T, dir string) *trace.Sheet {
	t.Helper()
	open := func(name string) intake.File {
		return intake.File{Name: name, Open: func() (io.ReadCloser, error) { return os.Open(filepath.Join(dir, name)) }}
	}
	f, err := os.Open(filepath.Join(dir, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	job, err := intake.ReadJobFile(f, "job.toml")
	if err != nil {
		t.Fatal(err)
	}
	src, err := intake.Load(context.Background(), intake.LoadOptions{Name: "walk", Job: job, Tables: []intake.File{open("w03_fixes.csv")}})
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := locate.Build(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

func realTruth(t *testing.T, plane geo.Plane, path string) geo.Polyline {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var pts []geo.XY
	for _, r := range rows[1:] {
		lon, errLon := strconv.ParseFloat(r[1], 64)
		lat, errLat := strconv.ParseFloat(r[2], 64)
		if errLon != nil || errLat != nil {
			t.Fatal(r)
		}
		pts = append(pts, plane.XY(geo.LonLat{LonDeg: lon, LatDeg: lat}))
	}
	return geo.NewPolyline(pts)
}

// at returns the p quantile.
func at(v []float64, p float64) float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[int(p*float64(len(s)-1))]
}
