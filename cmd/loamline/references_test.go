package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A layer that the job file and the command line both name is there once, under whatever
// path: read twice, its lines were neighbours of their own.
func TestALayerNamedTwiceIsReadOnce(t *testing.T) {
	dir := t.TempDir()
	walk := "line,lat,lon,h_acc_m,depth_m\n"
	for i := range 20 {
		walk += fmt.Sprintf("W-1,44.1,%.7f,0.02,1.0\n", -30.5+0.00002*float64(i))
	}
	layer := func(name, lat string) string {
		return `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"` + name + `"},"geometry":{"type":"LineString","coordinates":[[-30.5,` + lat + `],[-30.499,` + lat + `]]}}]}`
	}
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	table, job := write("walk.csv", walk), write("job.toml", strings.Repeat("[[reference]]\nfile = \"known.geojson\"\nutility = \"gas\"\n", 2))
	write("known.geojson", layer("G-7", "44.10003"))
	other := write("other.geojson", layer("G-8", "44.10004"))
	known := filepath.Join(dir, "..", filepath.Base(dir), "known.geojson")
	for _, given := range [][]string{nil, {known, known}, {known, other, other}} {
		args := []string{"loamline", "map", table, "--job", job, "--out", filepath.Join(dir, "out"), "--quiet"}
		want := []string{"known.geojson"}
		for _, g := range given {
			args = append(args, "--reference", g)
			if g == other && len(want) == 1 {
				want = append(want, "other.geojson")
			}
		}
		var errs bytes.Buffer
		if status := run(context.Background(), args, streams{in: strings.NewReader(""), out: &bytes.Buffer{}, err: &errs}); status != 0 {
			t.Fatalf("status %d: %s", status, &errs)
		}
		text, err := os.ReadFile(filepath.Join(dir, "out", "job.geojson"))
		if err != nil {
			t.Fatal(err)
		}
		var l struct {
			Member struct{ Inputs []struct{ Name string } } `json:"loamline"`
		}
		if err := json.Unmarshal(text, &l); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, in := range l.Member.Inputs {
			if filepath.Ext(in.Name) == ".geojson" {
				got = append(got, in.Name)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("given %v: read %v", given, got)
		}
	}
}
