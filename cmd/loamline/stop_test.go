package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// program returns a command that runs the whole program, signals included.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "loamline")
	if err := os.Symlink(exe, name); err != nil {
		t.Fatal(err)
	}
	return exec.Command(name, args...)
}

// manyLines is a table of straight lines side by side.
func manyLines(t *testing.T, dir string, lines, readings int) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("line,lat,lon,h_acc_m,depth_m\n")
	for l := range lines {
		for i := range readings {
			fmt.Fprintf(&b, "W-%d,%.8f,%.8f,0.02,%.2f\n", l, 44.1+float64(i)*1.5e-5, -71.5+float64(l)*4e-4+2e-7*math.Sin(float64(7*i+l)), 1+0.02*math.Sin(float64(i)))
		}
	}
	path := filepath.Join(dir, "walk.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// files lists what is in a folder and below.
func files(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out = append(out, path)
		}
		return nil
	})
	return out
}

// waitUntil waits until something is so.
func waitUntil(t *testing.T, what string, so func() bool) {
	t.Helper()
	for end := time.Now().Add(2 * time.Minute); !so(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s", what)
		}
	}
}

// ended waits for a program that was told to stop. How soon it does is no matter of
// this machine's clock, but of TestStopsWithLittleMoreWork; one that never does fails.
func ended(t *testing.T, cmd *exec.Cmd) error {
	t.Helper()
	late := time.AfterFunc(2*time.Minute, func() { cmd.Process.Kill() })
	err := cmd.Wait()
	if !late.Stop() {
		t.Error("it did not stop")
	}
	return err
}

// A signal is obeyed while readings are fitted and while files are written, and leaves
// nothing half-written.
func TestStopsAtOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	table := manyLines(t, t.TempDir(), 120, 60)
	outputs := []string{"geojson", "kml", "pdf", "gpkg", "html", "lines.csv", "stakeout.csv", "readings.csv", "records.csv"}
	for _, tt := range []struct {
		name   string
		signal os.Signal
		when   func(out string) bool
	}{
		{"reading", syscall.SIGINT, func(string) bool { time.Sleep(250 * time.Millisecond); return true }},
		{"fitting", syscall.SIGTERM, func(string) bool { time.Sleep(700 * time.Millisecond); return true }},
		{"writing", syscall.SIGINT, func(out string) bool { f, _ := os.ReadDir(out); return len(f) > 0 }},
		{"writing on", syscall.SIGTERM, func(out string) bool {
			f, _ := os.ReadDir(out)
			if len(f) > 0 {
				time.Sleep(700 * time.Millisecond)
			}
			return len(f) > 0
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			cmd := program(t, "map", table, "--out", out, "--write", "pdf,gpkg,html,csv", "--quiet")
			var said bytes.Buffer
			cmd.Stderr = &said
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(150 * time.Millisecond)
			waitUntil(t, tt.name, func() bool { return tt.when(out) })
			cmd.Process.Signal(tt.signal)
			err := ended(t, cmd)
			left := files(t, out)
			if cmd.ProcessState.ExitCode() == statusOK { // it was through
				if len(left) != len(outputs) {
					t.Errorf("there are %v", left)
				}
				return
			}
			if cmd.ProcessState.ExitCode() != statusFailed || !strings.Contains(said.String(), "stopped; nothing") {
				t.Errorf("%v, %q", err, said.String())
			}
			if len(left) > 0 {
				t.Errorf("left: %v", left)
			}
		})
	}
}

// What a killed run leaves is removed by the next one, and an earlier map that
// it had moved aside comes back; what a living run writes stays.
func TestLeftoversOfKilledRuns(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	cmd := program(t, "map", manyLines(t, dir, 120, 60), "--out", out, "--write", "pdf,gpkg", "--quiet")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	waitUntil(t, "files", func() bool { f, _ := os.ReadDir(out); return len(f) > 0 })
	cmd.Process.Kill()
	cmd.Wait()
	if left := files(t, out); len(left) == 0 {
		t.Fatal("the killed run left nothing: the test tests nothing")
	}
	living := filepath.Join(out, fmt.Sprintf(".walk.kml.%d-0.part", os.Getpid()))
	if err := os.WriteFile(living, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	small := manyLines(t, t.TempDir(), 1, 12)
	if text, err := program(t, "map", small, "--out", out, "--quiet").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	left := files(t, out)
	want := []string{living, filepath.Join(out, "walk.geojson"), filepath.Join(out, "walk.kml")}
	if fmt.Sprint(left) != fmt.Sprint(want) {
		t.Errorf("there are %v", left)
	}
}
