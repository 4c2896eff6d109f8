package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "remake the committed outputs of the examples")

// TestExamples remakes every example's outputs and compares them, byte for
// byte, with the committed ones. After a change that is meant, look at the new
// outputs, then
//
//	go test ./cmd/loamline -run TestExamples -update
func TestExamples(t *testing.T) {
	jobs, err := filepath.Glob("../../examples/*/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no example: %v", err)
	}
	for _, job := range jobs {
		t.Run(filepath.Base(filepath.Dir(job)), func(t *testing.T) {
			dir := filepath.Dir(job)
			kept := filepath.Join(dir, "out")
			made := t.TempDir()
			if *update {
				made = kept
			}
			var out, errs bytes.Buffer
			table := strings.TrimSuffix(job, ".toml") + ".csv"
			args := []string{"loamline", "map", table, "--job", job, "--out", made, "--write", "gpkg,pdf,html,csv,gpx,dxf,landxml,shp"}
			if status := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs}); status != statusOK {
				t.Fatalf("status %d: %s", status, errs.String())
			}
			if !strings.Contains(out.String(), "wrote ") || errs.Len() > 0 {
				t.Errorf("summary %q, errors %q", out.String(), errs.String())
			}
			sameFiles(t, kept, made)
		})
	}
}

// The guide to the example counts the items that its map has.
func TestExamplesGuideCountsTheItems(t *testing.T) {
	_, items, _ := strings.Cut(readText(t, exampleOut+"-cautions.txt"), "\nCheck before digging:\n")
	if want := fmt.Sprintf("There are %d items", strings.Count("\n"+items, "\n- ")); !strings.Contains(readText(t, "../../examples/README.md"), want) {
		t.Errorf("examples/README.md does not say %q", want)
	}
}

// sameFiles compares two folders file by file.
func sameFiles(t *testing.T, kept, made string) {
	t.Helper()
	want, err := os.ReadDir(kept)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadDir(made)
	if err != nil {
		t.Fatal(err)
	}
	if len(want) != len(got) {
		t.Errorf("%d files are committed, %d were made", len(want), len(got))
	}
	for _, e := range want {
		a, errA := os.ReadFile(filepath.Join(kept, e.Name()))
		b, errB := os.ReadFile(filepath.Join(made, e.Name()))
		if err := errors.Join(errA, errB); err != nil {
			t.Error(err)
		} else if !bytes.Equal(a, b) {
			t.Errorf("%s differs from the committed one, first in line %d; where that is meant, go test ./cmd/loamline -run TestExamples -update", e.Name(), lineOf(a, b))
		}
	}
}

// lineOf is the first line, from 1, in which two texts differ.
func lineOf(a, b []byte) int {
	n := 1
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			break
		}
		if a[i] == '\n' {
			n++
		}
	}
	return n
}
