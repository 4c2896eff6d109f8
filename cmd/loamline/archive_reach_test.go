package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Lines of earlier jobs are neighbours within 25 m of a job's readings, as the README says.
func TestEarlierLinesNearAJob(t *testing.T) {
	dir := t.TempDir()
	table := "line,lat,lon,depth_m,fix\n"
	for i := range 12 {
		table += fmt.Sprintf("W-1,%.8f,-30.5,1.%02d,4\n", 44.1+2*float64(i)/111_195, i%3)
	}
	readings, kept := filepath.Join(dir, "walk.csv"), filepath.Join(dir, "town.gpkg")
	if err := os.WriteFile(readings, []byte(table), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run(context.Background(), []string{"loamline", "map", readings, "--datum", "WGS84", "--out", dir, "--archive", kept}, streams{in: strings.NewReader(""), out: &out, err: &errs}); status != statusOK {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	a, err := openArchive(t.Context(), kept)
	if err != nil {
		t.Fatal(err)
	}
	defer a.close()
	near := a.nearby(trace.Source{Job: trace.DefaultJob()})
	for m, want := range map[float64]int{24.5: 1, 25.5: 0} {
		got, err := near(t.Context(), geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}), []geo.XY{{X: m, Y: 10}})
		if err != nil || len(got) != want {
			t.Errorf("%g m off: %d lines, %v", m, len(got), err)
		}
	}
}
