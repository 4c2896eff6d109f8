package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/batch"
)

// Programs that share a batch out among them make, together, byte for byte what one
// program makes, neighbours of each other's jobs included, each job once; and none
// does the work of all.
func TestShardsMakeWhatOneBatchMakes(t *testing.T) {
	streets := town(t, 3, 3, 30) // a kilometre from street to street
	whole := filepath.Join(t.TempDir(), "maps")
	batchOf(t, append([]string{"--out", whole, "--quiet"}, streets...)...)
	want := maps(t, whole)

	const parts = 4
	together := filepath.Join(t.TempDir(), "maps")
	made := map[string]int{}
	said, cmds := make([]bytes.Buffer, parts), make([]*exec.Cmd, parts)
	for p := range parts {
		cmds[p] = program(t, append([]string{"batch", "--out", together, "--archive", filepath.Join(together, "city.gpkg"), "--quiet", "--shard", fmt.Sprintf("%d/%d", p, parts)}, streets...)...)
		cmds[p].Stdout, cmds[p].Stderr = &said[p], &said[p]
		if err := cmds[p].Start(); err != nil {
			t.Fatal(err)
		}
	}
	for p := range parts {
		if err := cmds[p].Wait(); err != nil {
			t.Errorf("part %d: %v: %s", p, err, &said[p])
		}
	}
	sameMaps(t, maps(t, together), want)
	for p := range parts {
		for _, e := range entries(t, filepath.Join(together, fmt.Sprintf("batch-%d-of-%d.jsonl", p, parts))) {
			made[e.Job]++
			if e.Status != batch.Made || e.Neighbors != 2 {
				t.Errorf("%s: %s, %d neighbours", e.Job, e.Status, e.Neighbors)
			}
		}
	}
	for job, n := range made {
		if n != 1 {
			t.Errorf("%s is made %d times", job, n)
		}
	}
	if list := archived(t, filepath.Join(together, "city.gpkg")); len(made) != 9 || !strings.Contains(list, "9 jobs") {
		t.Errorf("%d jobs are made; the archive has\n%s", len(made), list)
	}

	// By itself, the first part fits its own street and no other.
	alone := filepath.Join(t.TempDir(), "maps")
	batchOf(t, append([]string{"--out", alone, "--quiet", "--shard", "0/3"}, streets...)...)
	fits, err := filepath.Glob(filepath.Join(alone, ".loamline-batch", "lines", "*", "*.gob"))
	if err != nil || len(fits) != 3 {
		t.Errorf("%d jobs were fitted for three of them, %v", len(fits), fits)
	}
	for name, text := range maps(t, alone) {
		if want[name] != text || !strings.HasPrefix(name, "street-0") {
			t.Errorf("%s is another", name)
		}
	}
}

// The command of examples/many-jobs.md: GNU parallel with four slots.
func TestParallelWithFourSlots(t *testing.T) {
	if _, err := exec.LookPath("parallel"); err != nil {
		t.Skip("GNU parallel is not installed (Debian: parallel): its command is not tried")
	}
	text, err := os.ReadFile("../../examples/many-jobs.md")
	if err != nil {
		t.Fatal(err)
	}
	_, command, there := strings.Cut(string(text), "\n    parallel ")
	command, _, _ = strings.Cut(command, "\n")
	if !there {
		t.Fatal("the command is not there")
	}
	dir := filepath.Dir(town(t, 2, 2, 20)[0])
	work := t.TempDir()
	if err := os.Rename(dir, filepath.Join(work, "jobs")); err != nil {
		t.Fatal(err)
	}
	bin := filepath.Dir(program(t).Path)
	cmd := exec.Command("sh", "-c", "parallel "+command)
	cmd.Dir = work
	cmd.Env = append(os.Environ(), "PATH="+bin+":"+os.Getenv("PATH"), "HOME="+work)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	batchOf(t, "--out", filepath.Join(work, "whole"), "--quiet", filepath.Join(work, "jobs"))
	sameMaps(t, maps(t, filepath.Join(work, "maps")), maps(t, filepath.Join(work, "whole")))
	if n := len(maps(t, filepath.Join(work, "maps"))); n != 8 {
		t.Errorf("%d files", n)
	}
}

func TestShardsThatAreNone(t *testing.T) {
	for _, s := range []string{"1", "4/4", "-1/4", "0/0", "1/4x", "a/b"} {
		var out, stderr bytes.Buffer
		status := run(context.Background(), []string{"loamline", "batch", "--shard", s, t.TempDir()}, streams{out: &out, err: &stderr})
		if status != statusUsage || !strings.Contains(stderr.String(), "such as 0/4") {
			t.Errorf("%s: status %d: %s", s, status, stderr.String())
		}
	}
}
