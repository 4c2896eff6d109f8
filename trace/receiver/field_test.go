package receiver

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
)

const fieldData = "../../testdata/field"

// rows reads a table of testdata/field below its header.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(fieldData, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	return all[1:]
}

func figures(t *testing.T, row []string) []float64 {
	t.Helper()
	var out []float64
	for _, cell := range row {
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

// Two parallel conductors by superposition on a grid of 0.2 mm: peak, null, depth and
// current shown with antennas 0.40 m apart (testdata/field/field.py, which shares no
// code with the program).
func TestPairsAgainstGridSearch(t *testing.T) {
	for _, row := range rows(t, "pairs.csv") {
		v := figures(t, row)
		s := pair(v[0], v[1], v[2], complex(v[3], 0))
		got := s.Survey(0, 0.4)
		near(t, "peak", got.PeakM, v[4], 0.0005)
		near(t, "null offset", got.NullOffsetM, v[5], 0.0005)
		near(t, "depth", got.DepthM, v[6], 0.0005)
		near(t, "current", got.CurrentA, v[7], 0.0005)
	}
}

// A line that ends, turns off or comes back beside itself, by Biot and Savart summed
// numerically (the same script): field over the line and depth shown.
func TestWiresAgainstNumericalSum(t *testing.T) {
	shapes := map[string]func(y float64) []Point{
		"end":    func(y float64) []Point { return []Point{{0, -1e4, -1}, {0, y, -1}} },
		"bend":   func(y float64) []Point { return []Point{{0, -1e4, -1}, {0, y, -1}, {1e4, y, -1}} },
		"return": func(y float64) []Point { return []Point{{0, -1e4, -1}, {0, y, -1}, {1, y, -1}, {1, -1e4, -1}} },
	}
	for _, row := range rows(t, "wires.csv") {
		v := figures(t, row[1:])
		w := Wire{Points: shapes[row[0]](v[0]), CurrentA: 1}
		at, right := Point{}, Point{1, 0, 0}
		low, high := w.B(at).dot(right), w.B(Point{0, 0, 0.4}).dot(right)
		near(t, row[0]+", field", low, v[1]*nT, 1e-4*v[1]*nT)
		near(t, row[0]+", depth", TwoAntennaDepthM(low, high, 0.4), v[2], 1e-5)
	}
}

// The tables are what the script writes, and the script holds itself against the
// textbook's formulas first.
func TestFieldScriptWritesItsTables(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not installed: the script is not run")
	}
	dir := t.TempDir()
	script, err := os.ReadFile(filepath.Join(fieldData, "field.py"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "field.py"), script, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(python, filepath.Join(dir, "field.py")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, name := range []string{"pairs.csv", "wires.csv"} {
		want, err := os.ReadFile(filepath.Join(fieldData, name))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the script writes: %v\n%s", name, err, got)
		}
	}
}
