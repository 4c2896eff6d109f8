package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// failing panics where the program reads from it.
type failing struct{}

func (failing) Read([]byte) (int, error) { panic("broken inside") }

// The status of a panic is that of a job that could not be done, not Go's own,
// which would say wrong usage.
func TestRunFailsOnAPanic(t *testing.T) {
	var out, stderr bytes.Buffer
	status := run(context.Background(), []string{"loamline", "serve", "--make-user", "somebody"}, streams{in: failing{}, out: &out, err: &stderr})
	if status != statusFailed || !strings.Contains(stderr.String(), "please report it") || !strings.Contains(stderr.String(), "broken inside") {
		t.Errorf("status %d: %s", status, stderr.String())
	}
}

// Whoever stops a run is told that nothing was written.
func TestRunThatIsStopped(t *testing.T) {
	dir := t.TempDir()
	table := filepath.Join(dir, "walk.csv")
	if err := os.WriteFile(table, []byte("lat,lon\n44.1,-30.5\n44.1001,-30.5\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, stderr bytes.Buffer
	status := run(ctx, []string{"loamline", "map", table, "--out", dir}, streams{out: &out, err: &stderr})
	if left, _ := os.ReadDir(dir); status != statusFailed || stderr.String() != "loamline: stopped; nothing was written, and earlier outputs are as they were\n" || len(left) != 1 {
		t.Errorf("status %d, %q, %v", status, stderr.String(), left)
	}
}

// A flag of one value that is given two is refused; the same value twice, and a flag of
// several values, are not.
func TestFlagGivenTwice(t *testing.T) {
	for _, c := range []struct {
		args  string
		twice bool
	}{
		{"t.csv --job a.toml --job b.toml", true}, {"--job=a.toml t.csv --job b.toml", true},
		{"t.csv --job a.toml --job a.toml", false}, {"t.csv --gnss-log a --gnss-log b", false}, {"t.csv --quiet --quiet", false}, {"t.csv --job a.toml -- --job b.toml", false},
	} {
		var out, stderr bytes.Buffer
		status := run(context.Background(), append([]string{"loamline", "map"}, strings.Fields(c.args)...), streams{out: &out, err: &stderr})
		if told := strings.Contains(stderr.String(), `--job is given twice, as "a.toml" and as "b.toml"`); told != c.twice || told != (status == statusUsage) {
			t.Errorf("%s: status %d, %s", c.args, status, stderr.String())
		}
	}
}
