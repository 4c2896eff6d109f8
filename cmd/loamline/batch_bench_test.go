package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/study"
)

// linesAJob and readingsALine are what jobs of a benchmark have.
const (
	linesAJob     = 2
	readingsALine = 500 // of tracetest.ManyLines
)

// manyJobs writes so many readings as jobs of two lines each, none of which comes
// near another.
func manyJobs(t testing.TB, readings int) string {
	t.Helper()
	var all bytes.Buffer
	if err := tracetest.ManyLines(&all, readings/readingsALine); err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(all.String(), "\n")
	rows := strings.SplitAfter(rest, "\n")
	dir := t.TempDir()
	for j := 0; j*linesAJob*readingsALine < readings; j++ {
		from := j * linesAJob * readingsALine
		text := head + "\n" + strings.Join(rows[from:from+linesAJob*readingsALine], "")
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("walk-%05d.csv", j)), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// bareRead reads every field of every table, and does nothing with it.
func bareRead(t testing.TB, dir string) {
	t.Helper()
	for _, path := range tablesIn(t, dir) {
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(f)
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
		f.Close()
	}
}

func tablesIn(t testing.TB, dir string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("%v, %v", paths, err)
	}
	return paths
}

func batchQuietly(t testing.TB, dir, out string) {
	t.Helper()
	var stderr bytes.Buffer
	if status := run(context.Background(), []string{"loamline", "batch", "--quiet", "--out", out, dir}, streams{in: os.Stdin, out: io.Discard, err: &stderr}); status != 0 {
		t.Fatalf("status %d: %s", status, stderr.String())
	}
}

// BenchmarkBatchGrowth tells how time and memory of a batch grow with its
// readings, as ratios: to a bare read of the same tables, and by reading to the
// smallest batch. 1 is linear growth.
func BenchmarkBatchGrowth(b *testing.B) {
	collectSooner()
	var least struct{ time, alloc, peak float64 }
	for _, readings := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("readings=%d", readings), func(b *testing.B) {
			dir := manyJobs(b, readings)
			began := time.Now()
			bareRead(b, dir)
			bare := time.Since(began)
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			peak := watchMemory()
			runs := 0
			for b.Loop() {
				batchQuietly(b, dir, filepath.Join(b.TempDir(), "maps"))
				runs++
			}
			most := float64(peak())
			runtime.ReadMemStats(&after)
			perRun := b.Elapsed().Seconds() / float64(runs)
			alloc := float64(after.TotalAlloc-before.TotalAlloc) / float64(runs)
			n := float64(readings)
			if least.time == 0 {
				least.time, least.alloc, least.peak = perRun/n, alloc/n, most
			}
			b.ReportMetric(0, "ns/op") // seconds are the machine's, ratios are the program's
			b.ReportMetric(perRun/bare.Seconds(), "x-bare-read")
			b.ReportMetric(perRun/n/least.time, "x-linear-time")
			b.ReportMetric(alloc/n/least.alloc, "x-linear-alloc")
			b.ReportMetric(most/least.peak, "x-least-peak")
		})
	}
}

// copies are tables of the same lines, each copy a little further north and with
// lines of its own, so that each is as much work as the first.
func copies(t testing.TB, n int) []string {
	t.Helper()
	var all bytes.Buffer
	if err := tracetest.ManyLines(&all, linesAJob); err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(all.String(), "\n")
	out := make([]string, n)
	for k := range out {
		var b strings.Builder
		b.WriteString(head + "\n")
		for _, row := range strings.Split(strings.TrimSuffix(rest, "\n"), "\n") {
			cells := strings.Split(row, ",")
			lat, err := strconv.ParseFloat(cells[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			cells[0], cells[2] = fmt.Sprintf("%s-%d", cells[0], k), fmt.Sprintf("%.8f", lat+0.02*float64(k))
			b.WriteString(strings.Join(cells, ",") + "\n")
		}
		out[k] = b.String()
	}
	return out
}

// What is allocated grows with the readings and no faster, whether they are many
// jobs or one. The bound is a ratio: seconds are the machine's.
func TestAllocationsGrowLinearly(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	times := study.Of(4, 8)
	for _, tt := range []struct {
		name string
		lay  func(tables []string) []string
	}{
		{"many jobs", func(tables []string) []string { return tables }},
		{"one job", func(tables []string) []string {
			head, _, _ := strings.Cut(tables[0], "\n")
			one := head + "\n"
			for _, table := range tables {
				_, rows, _ := strings.Cut(table, "\n")
				one += rows
			}
			return []string{one}
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			allocated := func(n int) float64 {
				dir, out := t.TempDir(), filepath.Join(t.TempDir(), "maps")
				for i, text := range tt.lay(copies(t, n)) {
					if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("walk-%d.csv", i)), []byte(text), 0o666); err != nil {
						t.Fatal(err)
					}
				}
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				batchQuietly(t, dir, out)
				runtime.ReadMemStats(&after)
				return float64(after.TotalAlloc - before.TotalAlloc)
			}
			allocated(1) // what is made once in a program's life
			ratio := allocated(times) / allocated(1) / float64(times)
			t.Logf("%d times the readings allocate %.3f of linear", times, ratio)
			if ratio > 1.1 {
				t.Errorf("%d times the readings allocate %.3f of linear", times, ratio)
			}
		})
	}
}
