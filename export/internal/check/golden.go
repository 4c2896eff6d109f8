package check

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"loamline.example/trace"
)

var Update = flag.Bool("update", false, "remake the goldens in testdata")

// Golden compares with a file under testdata, or remakes it with -update.
func Golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *Update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run this package's tests with -update to make its goldens)", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	g, w := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range min(len(g), len(w)) {
		if !bytes.Equal(g[i], w[i]) {
			from := max(0, same(g[i], w[i])-80) // of a line that may have thousands of characters
			t.Fatalf("%s, line %d, from column %d:\ngot  %.300s\nwant %.300s\n(run this package's tests with -update to remake its goldens)",
				path, i+1, from+1, g[i][from:], w[i][from:])
		}
	}
	t.Fatalf("%s: %d lines, want %d", path, len(g), len(w))
}

// same is how many bytes two texts have in common at their beginning.
func same(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// Write returns what an exporter writes.
func Write(t *testing.T, s *trace.Sheet, to func(io.Writer, *trace.Sheet) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := to(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
