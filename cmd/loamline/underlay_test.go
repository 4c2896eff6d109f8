package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/batch"
	"loamline.example/geo"
)

// A site plan is drawn on page, sheets and archive, and nothing that the map says of
// the line changes by it: but for the settings and inputs that name it, the GeoJSON is
// the same.
func TestUnderlay(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	e, n := utmOfTheStreet(t)
	p := image.NewGray(image.Rect(0, 0, 300, 300))
	for i := range p.Pix {
		p.Pix[i] = 255 * uint8(min(1, i%17))
	}
	p.Set(1, 1, color.Gray{100})
	var picture bytes.Buffer
	if err := png.Encode(&picture, p); err != nil {
		t.Fatal(err)
	}
	write("plans/site.png", picture.String())
	write("plans/site.pgw", fmt.Sprintf("0.2\n0\n0\n-0.2\n%.2f\n%.2f\n", e-30, n+30))
	write("far.png", picture.String())
	write("far.pgw", fmt.Sprintf("0.2\n0\n0\n-0.2\n%.2f\n%.2f\n", e-30, n+5030))
	table := write("walk.csv", "line,lat,lon,fix,h_acc_m,depth_m\nW-1,44.09990,-30.5,4,0.02,1\nW-1,44.09996,-30.5,4,0.02,1.01\nW-1,44.10002,-30.5,4,0.02,1\nW-1,44.10008,-30.5,4,0.02,1.02\n")
	job := write("job.toml", "[underlay]\nfile = \"plans/site.png\"\ncrs = \"EPSG:32625\"\nopacity = 0.4\n")
	none := write("none.toml", "ticket = \"T-1\"\n")
	made := func(want int, args ...string) (string, string) {
		t.Helper()
		out := t.TempDir()
		var said, wrong bytes.Buffer
		if got := run(context.Background(), append([]string{"loamline", "map", table, "--out", out}, args...), streams{out: &said, err: &wrong}); got != want {
			t.Fatalf("status %d: %s", got, wrong.String())
		}
		return out, wrong.String()
	}
	read := func(path string) string {
		t.Helper()
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}

	out, _ := made(statusOK, "--job", job, "--write", "html,kmz,pdf")
	again, _ := made(statusOK, "--job", job, "--write", "html,kmz,pdf")
	for _, f := range []string{"job.html", "job.kmz", "job.pdf", "job.geojson"} {
		if read(filepath.Join(out, f)) != read(filepath.Join(again, f)) {
			t.Errorf("%s differs from one run to the next", f)
		}
	}
	if !strings.Contains(read(filepath.Join(out, "job.html")), `"under":{"picture":"data:image/png;base64,`) {
		t.Error("the page does not hold the site plan")
	}
	with := read(filepath.Join(out, "job.geojson"))
	if !strings.Contains(with, `"underlay":{"file":"site.png","crs":"EPSG:32625","opacity":0.4`) || !strings.Contains(with, `"name":"site.pgw"`) {
		t.Error("the map does not name the site plan and its world file")
	}
	flagged, _ := made(statusOK, "--job", none, "--underlay", filepath.Join(dir, "plans/site.png"), "--underlay-crs", "EPSG:32625")
	plain, _ := made(statusOK, "--job", none)
	features := func(text string) string {
		return text[:strings.Index(text, `"loamline":`)] + text[strings.Index(text, `"features":`):]
	}
	if features(read(filepath.Join(flagged, "none.geojson"))) != features(read(filepath.Join(plain, "none.geojson"))) {
		t.Error("the site plan changed what the map says of the line")
	}

	// The job file's crs is that of its own picture, and of no other one.
	if _, wrong := made(statusFailed, "--job", job, "--underlay", filepath.Join(dir, "far.png")); !strings.Contains(wrong, "nothing says which reference system") {
		t.Error(wrong)
	}
	empty, wrong := made(statusFailed, "--job", none, "--underlay", filepath.Join(dir, "far.png"), "--underlay-crs", "EPSG:32625")
	if !strings.Contains(wrong, "far.png: underlay: no reading lies on this site plan: its nearest edge is 5.0 km to the north of them") {
		t.Error(wrong)
	}
	if left := files(t, empty); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
	if _, wrong := made(statusUsage, "--underlay-crs", "EPSG:32625"); !strings.Contains(wrong, "the site plan is not named") {
		t.Error(wrong)
	}
}

// A batch makes a job again when its site plan or the world file beside that has
// changed, and not otherwise.
func TestBatchFollowsTheUnderlay(t *testing.T) {
	dir, out := t.TempDir(), filepath.Join(t.TempDir(), "maps")
	e, n := utmOfTheStreet(t)
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 300, 300))); err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("walk.csv", "line,lat,lon,fix,h_acc_m\nW-1,44.09990,-30.5,4,0.02\nW-1,44.09996,-30.5,4,0.02\nW-1,44.10002,-30.5,4,0.02\nW-1,44.10008,-30.5,4,0.02\n")
	write("job.toml", "[underlay]\nfile = \"site.png\"\ncrs = \"EPSG:32625\"\n")
	write("site.png", picture.String())
	for i, c := range []struct {
		eastM  float64
		status batch.Status
	}{{-30, batch.Made}, {-30, batch.Unchanged}, {-29, batch.Made}} {
		write("site.pgw", fmt.Sprintf("0.2\n0\n0\n-0.2\n%.2f\n%.2f\n", e+c.eastM, n+30))
		var said, wrong bytes.Buffer
		if got := run(context.Background(), []string{"loamline", "batch", dir, "--out", out, "--quiet", "--write", "html"}, streams{out: &said, err: &wrong}); got != statusOK {
			t.Fatalf("status %d: %s", got, wrong.String())
		}
		if all := entries(t, filepath.Join(out, "batch.jsonl")); len(all) != 1 || all[0].Status != c.status {
			t.Errorf("run %d: %+v, want %s", i+1, all, c.status)
		}
	}
}

// utmOfTheStreet is where the invented street begins, in EPSG:32625.
func utmOfTheStreet(t *testing.T) (eastM, northM float64) {
	t.Helper()
	utm, err := geo.LookupCRS("EPSG:32625")
	if err != nil {
		t.Fatal(err)
	}
	eastM, northM, err = utm.Project(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1})
	if err != nil {
		t.Fatal(err)
	}
	return eastM, northM
}
