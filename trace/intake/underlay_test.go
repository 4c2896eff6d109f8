package intake

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

func TestUnderlayOfAJobFile(t *testing.T) {
	j, err := ReadJobFile(strings.NewReader("[underlay]\nfile = \"plan.tif\"\ncrs = \"EPSG:26919\"\ndatum = \"NAD83(2011)\"\nepoch = 2026.5\nopacity = 0.3\npage = 3\ndpi = 72\n"), "job.toml")
	if want := (trace.UnderlaySetup{File: "plan.tif", CRS: "EPSG:26919", Datum: "NAD83(2011)", Epoch: 2026.5, Opacity: 0.3, Page: 3, DPI: 72}); err != nil || j.Underlay != want {
		t.Errorf("%+v, %v", j.Underlay, err)
	}
	if j, err = ReadJobFile(strings.NewReader("[underlay]\nfile = \"plan.tif\"\n"), "job.toml"); err != nil || j.Underlay.Opacity != trace.DefaultOpacity {
		t.Errorf("%+v, %v", j.Underlay, err)
	}
	for text, want := range map[string]string{
		"[underlay]\nopacity = 0.3\n":                                   "job.toml:1:2: underlay: the site plan is not named",
		"[underlay]\nfile = \"a.png\"\nopacity = 30\n":                  "job.toml:3:1: underlay.opacity: 30 is not an opacity between 0.05",
		"[underlay]\nfile = \"a.png\"\ncrs = \"EPSG:1\"\n":              "job.toml:3:1: underlay.crs: EPSG:1",
		"[underlay]\nfile = \"a.png\"\ncsr = \"EPSG:26919\"\n":          "job.toml:3:1: underlay.csr: this key is not known; the nearest right key is \"crs\"",
		"[underlay]\nfile = \"https://plans.example/a.png\"\n":          "job.toml:2:1: underlay.file: \"https://plans.example/a.png\" is an address: save the site plan beside",
		"[underlay]\nfile = \"a.png\"\ndatum = \"Mars\"\n":              "underlay.datum",
		"[[underlay]]\nfile = \"a.png\"\n":                              "write [underlay] on a line of its own",
		"[underlay]\nfile = \"a.png\"\nepoch = 26\n":                    "epoch 26 is not a decimal year",
		"[underlay]\nfile = \"a.pdf\"\npage = 1.5\n":                    "job.toml:3:1: underlay.page: a whole number without quotes is required",
		"[underlay]\nfile = \"a.pdf\"\npage = -1\n":                     "job.toml:3:1: underlay.page: -1 is not a page",
		"[underlay]\nfile = \"a.pdf\"\ndpi = -72\n":                     "job.toml:3:1: underlay.dpi: -72 is not a number of dots per inch",
		"underlay = \"a.png\"\n":                                        "job.toml:1:1: underlay: this is a table",
		"[underlay]\nfile = 3\n":                                        "job.toml:2:1: underlay.file: a text in quotes is required",
		"[underlay]\nfile = \"a.png\"\nopacity = \"half\"\n":            "a number without quotes is required",
		"[underlay]\nfile = \"a.png\"\ncrs = \"the town's own grid\"\n": "job.toml:3:1: underlay.crs",
	} {
		if _, err := ReadJobFile(strings.NewReader(text), "job.toml"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// fileOf is an input that lies in memory, with others beside it.
func fileOf(name, text string, beside map[string]string) File {
	return File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil },
		Beside: func(ending string) (File, bool) {
			b, there := beside[ending]
			return fileOf(strings.TrimSuffix(name, ".png")+ending, b, nil), there
		}}
}

// A site plan is read with its world file, both are inputs of the map, and what its
// frame leaves open is told: readings in a national frame, and a plan in WGS 84 by name
// alone.
func TestUnderlayIsAnInputWithADoubt(t *testing.T) {
	utm, err := geo.LookupCRS("EPSG:32619")
	if err != nil {
		t.Fatal(err)
	}
	e, n, err := utm.Project(geo.LonLat{LonDeg: -71.5, LatDeg: 44.1})
	if err != nil {
		t.Fatal(err)
	}
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 20, 20))); err != nil {
		t.Fatal(err)
	}
	job := trace.DefaultJob()
	job.Datum, job.Epoch = "NAD83(2011)", 2026.36
	job.Underlay.File, job.Underlay.CRS = "plan.png", "EPSG:32619"
	load := func(job trace.Job, beside map[string]string) (trace.Source, error) {
		plan := fileOf("plan.png", picture.String(), beside)
		return Load(context.Background(), LoadOptions{Job: job, Tables: []File{fileOf("walk.csv", "lat,lon\n44.1,-71.5\n", nil)}, Underlay: &plan})
	}
	beside := map[string]string{".pgw": fmt.Sprintf("1\n0\n0\n-1\n%.3f\n%.3f\n", e-10, n+10)}
	src, err := load(job, beside)
	if err != nil {
		t.Fatal(err)
	}
	if len(src.Inputs) != 3 || src.Inputs[1].Name != "plan.png" || src.Inputs[2].Name != "plan.pgw" || src.Inputs[2].Kind != trace.InputUnderlay {
		t.Errorf("inputs %+v", src.Inputs)
	}
	if u := src.Underlay; u.DoubtM < 1 || u.DoubtM > 2 || u.DoubtWhy != "its frame is not stated" {
		t.Errorf("in doubt by %g m, %s", u.DoubtM, u.DoubtWhy)
	}
	if len(src.Problems) != 1 || !strings.Contains(src.Problems[0].Error(), `say it in [underlay]: datum = "NAD83(2011)"`) {
		t.Errorf("%+v", src.Problems)
	}
	job.Underlay.Datum = "WGS84"
	if src, err = load(job, beside); err != nil || src.Underlay.DoubtM != 0 || len(src.Problems) != 0 {
		t.Errorf("stated: %+v, %v", src.Problems, err)
	}
	var p *trace.Problem
	if _, err = load(job, map[string]string{".pgw": strings.Repeat("1\n", 5000)}); !errors.As(err, &p) || !strings.Contains(err.Error(), "plan.pgw: underlay: the file is longer than 4096 bytes") {
		t.Error(err)
	}
}
