package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/batch"
	"loamline.example/trace/tracetest/study"
)

// town is a folder of folders of jobs. Jobs of one street lie a metre or less
// apart, and one in each street has the name of one in the next.
func town(t *testing.T, streets, jobs, readings int) []string {
	t.Helper()
	dir := t.TempDir()
	var out []string
	for s := range streets {
		street := filepath.Join(dir, fmt.Sprintf("street-%d", s))
		if err := os.MkdirAll(street, 0o777); err != nil {
			t.Fatal(err)
		}
		out = append(out, street)
		for j := range jobs {
			var b strings.Builder
			b.WriteString("line,lat,lon,h_acc_m,depth_m,current_ma\n")
			for i := range readings {
				fmt.Fprintf(&b, "L-%d,%.8f,%.8f,0.02,%.2f,%.1f\n", j, 44.1+0.01*float64(s)+float64(i)*1.5e-5,
					-30.5+float64(j)*8e-6+2e-7*math.Sin(float64(7*i+j)), 1+0.1*float64(j)+0.02*math.Sin(float64(i)), 80-0.1*float64(i))
			}
			if err := os.WriteFile(filepath.Join(street, fmt.Sprintf("walk-%d.csv", j)), []byte(b.String()), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	return out
}

// maps are the outputs of a batch by their paths: all that is in its folder but
// what it keeps for itself, the log and the archive.
func maps(t *testing.T, out string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if err == nil && d.Name() == ".loamline-batch" {
				return fs.SkipDir
			}
			return err
		}
		if strings.HasPrefix(d.Name(), "batch") && strings.HasSuffix(d.Name(), ".jsonl") || strings.HasPrefix(d.Name(), "city.gpkg") {
			return nil
		}
		text, err := os.ReadFile(path)
		rel, _ := filepath.Rel(out, path)
		got[rel] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func sameMaps(t *testing.T, got, want map[string]string) {
	t.Helper()
	for name := range got {
		if _, there := want[name]; !there {
			t.Errorf("%s is there as well", name)
		}
	}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s is another, or not there", name)
		}
	}
}

// batchOf runs a batch to its end.
func batchOf(t *testing.T, args ...string) {
	t.Helper()
	var out, stderr bytes.Buffer
	if status := run(context.Background(), append([]string{"loamline", "batch"}, args...), streams{out: &out, err: &stderr}); status != statusOK {
		t.Fatalf("status %d: %s%s", status, out.String(), stderr.String())
	}
}

// archived lists what an archive has.
func archived(t *testing.T, path string) string {
	t.Helper()
	var out, stderr bytes.Buffer
	if status := run(context.Background(), []string{"loamline", "archive", path}, streams{out: &out, err: &stderr}); status != statusOK {
		t.Fatalf("status %d: %s", status, stderr.String())
	}
	return out.String()
}

// entries reads a log, every line of which must be a whole one.
func entries(t *testing.T, path string) []batch.Entry {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []batch.Entry
	for _, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		d := json.NewDecoder(strings.NewReader(line))
		d.DisallowUnknownFields()
		var e batch.Entry
		if err := d.Decode(&e); err != nil || d.More() {
			t.Fatalf("%v in %q", err, line)
		}
		if c := e.Counts; c.Rows != c.Used+c.SetAside+c.Check+c.Exposed+c.Unreadable {
			t.Errorf("%s: rows are lost: %+v", e.Job, c)
		}
		if strings.Contains(line, `"inputs":null`) || strings.Contains(line, `"findings":null`) {
			t.Errorf("a list is null: %s", line)
		}
		out = append(out, e)
	}
	return out
}

// The maps, and what the jobs go by in an archive, do not depend on the order of
// the folders, or on how many jobs are made at once.
func TestBatchDoesNotDependOnOrder(t *testing.T) {
	streets := town(t, 3, 3, 30)
	one, many := filepath.Join(t.TempDir(), "maps"), filepath.Join(t.TempDir(), "maps")
	batchOf(t, append([]string{"--jobs", "1", "--out", one, "--archive", filepath.Join(one, "city.gpkg"), "--quiet"}, streets...)...)
	want := maps(t, one)
	if len(want) != 18 {
		t.Fatalf("there are %d files", len(want))
	}
	for name, text := range want {
		if strings.HasSuffix(name, ".geojson") && !strings.Contains(text, "batch: job street-") {
			t.Errorf("%s knows of no neighbour", name)
		}
	}
	batchOf(t, "--jobs", "5", "--out", many, "--archive", filepath.Join(many, "city.gpkg"), "--quiet", streets[2], streets[0], streets[1])
	sameMaps(t, maps(t, many), want)
	if a, b := archived(t, filepath.Join(one, "city.gpkg")), archived(t, filepath.Join(many, "city.gpkg")); a != b || !strings.Contains(a, "walk-1 (3)") {
		t.Errorf("the archives differ, or names have run together:\n%s%s", a, b)
	}
	log := entries(t, filepath.Join(many, "batch.jsonl"))
	for i, e := range log {
		if e.Status != batch.Made || e.Neighbors != 2 || e.Drawn != 1 || e.Counts.Rows != 30 || len(e.Fingerprint) != 64 || e.Seconds <= 0 || len(e.Inputs) != 1 ||
			i > 0 && log[i-1].Job >= e.Job {
			t.Errorf("%+v", e)
		}
		if e.NeedsEyes != (len(e.Findings) > 0) {
			t.Errorf("%s: needs eyes %v with %d findings", e.Job, e.NeedsEyes, len(e.Findings))
		}
	}

	// With an archive that has the batch's jobs already, nothing is another.
	again := filepath.Join(t.TempDir(), "maps")
	batchOf(t, append([]string{"--out", again, "--archive", filepath.Join(one, "city.gpkg"), "--quiet"}, streets...)...)
	sameMaps(t, maps(t, again), want)
	if !strings.Contains(archived(t, filepath.Join(one, "city.gpkg")), "9 jobs") {
		t.Error("the archive has more jobs than there are")
	}
}

// A batch that is killed again and again, wherever it is, and run again, leaves
// the same bytes as one that nobody disturbed, and the same jobs in the archive.
func TestBatchGoesOnAfterKills(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	streets := town(t, 4, 3, 24)
	calm, torn := filepath.Join(t.TempDir(), "maps"), filepath.Join(t.TempDir(), "maps")
	args := func(out string) []string {
		return append([]string{"batch", "--write", "csv", "--out", out, "--archive", filepath.Join(out, "city.gpkg"), "--quiet"}, streets...)
	}
	began := time.Now()
	if text, err := program(t, args(calm)...).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	whole := time.Since(began)
	want, wantArchive := maps(t, calm), archived(t, filepath.Join(calm, "city.gpkg"))
	r := rand.New(rand.NewPCG(19, 1))
	for killed := 0; killed < study.Of(8, 20); {
		cmd := program(t, args(torn)...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(r.Float64() * float64(whole) / 2))
		cmd.Process.Kill()
		if cmd.Wait(); !cmd.ProcessState.Success() {
			killed++
			continue
		}
		// It was through: look, and begin anew.
		sameMaps(t, maps(t, torn), want)
		if got := archived(t, filepath.Join(torn, "city.gpkg")); got != wantArchive {
			t.Errorf("the archives differ:\n%s%s", got, wantArchive)
		}
		torn = filepath.Join(t.TempDir(), "maps")
	}
	for range 2 { // the second has nothing to do
		if text, err := program(t, args(torn)...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
	}
	sameMaps(t, maps(t, torn), want)
	for _, e := range entries(t, filepath.Join(torn, "batch.jsonl")) {
		if e.Status != batch.Unchanged || e.Counts.Rows != 24 {
			t.Errorf("a finished job was made again: %+v", e)
		}
	}
}

// A stop is obeyed and leaves nothing half-written,
// and the next run makes only what is missing.
func TestBatchStops(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	streets := town(t, 6, 4, 80)
	for _, signal := range []os.Signal{syscall.SIGINT, syscall.SIGTERM} {
		out := filepath.Join(t.TempDir(), "maps")
		args := append([]string{"batch", "--jobs", "2", "--out", out}, streets...)
		cmd := program(t, args...)
		var said bytes.Buffer
		cmd.Stderr = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		through := func() int { return len(maps(t, out)) / 2 }
		waitUntil(t, "a first map", func() bool { _, err := os.Stat(out); return err == nil && through() > 0 })
		cmd.Process.Signal(signal)
		_ = ended(t, cmd) // its status is looked at below
		if cmd.ProcessState.ExitCode() != statusFailed || !strings.Contains(said.String(), "stopped; ") {
			t.Fatalf("status %d: %s", cmd.ProcessState.ExitCode(), said.String())
		}
		for _, f := range files(t, out) {
			if strings.HasSuffix(f, ".part") || strings.HasSuffix(f, ".old") {
				t.Errorf("left: %s", f)
			}
		}
		had := through()
		if text, err := program(t, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
		kept := 0
		for _, e := range entries(t, filepath.Join(out, "batch.jsonl")) {
			if e.Status == batch.Unchanged {
				kept++
			}
		}
		if through() != 24 || kept != had {
			t.Errorf("%d jobs were through, %d were kept, there are %d", had, kept, through())
		}
	}
}
