package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/metrics"
	"sync/atomic"
	"testing"
	"time"

	"loamline.example/trace/tracetest"
)

// BenchmarkMap is the whole main job, from the table's file to the written
// GeoJSON and KML, by lines of 500 readings each. It reports the largest amount
// of memory that the Go runtime held meanwhile.
func BenchmarkMap(b *testing.B) {
	collectSooner()
	for _, lines := range []int{2, 20, 200, 2000} {
		b.Run(fmt.Sprintf("lines=%d", lines), func(b *testing.B) {
			table := writeManyLines(b, lines)
			out := b.TempDir()
			peak := watchMemory()
			for b.Loop() {
				status := run(context.Background(), []string{"loamline", "map", "--quiet", "--out", out, table},
					streams{in: os.Stdin, out: io.Discard, err: io.Discard})
				if status != 0 {
					b.Fatalf("status %d", status)
				}
			}
			readings := float64(500 * lines)
			b.ReportMetric(float64(peak())/1e6, "peak-MB")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/readings, "µs/reading")
		})
	}
}

// BenchmarkMapPrinted is the same with the printed sheets, several a line.
func BenchmarkMapPrinted(b *testing.B) {
	collectSooner()
	for _, lines := range []int{5, 20, 80} {
		b.Run(fmt.Sprintf("lines=%d", lines), func(b *testing.B) {
			table := writeManyLines(b, lines)
			out := b.TempDir()
			for b.Loop() {
				status := run(context.Background(), []string{"loamline", "map", "--quiet", "--write", "pdf", "--out", out, table},
					streams{in: os.Stdin, out: io.Discard, err: io.Discard})
				if status != 0 {
					b.Fatalf("status %d", status)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/float64(lines), "ms/line")
		})
	}
}

func writeManyLines(b *testing.B, lines int) string {
	b.Helper()
	f, err := os.Create(filepath.Join(b.TempDir(), "many.csv"))
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	if err := tracetest.ManyLines(f, lines); err != nil {
		b.Fatal(err)
	}
	return f.Name()
}

// watchMemory samples the memory that the runtime holds from the system until
// the function that it returns is called, which tells the most in bytes.
func watchMemory() func() uint64 {
	var most atomic.Uint64
	done := make(chan struct{})
	go func() {
		held := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			metrics.Read(held)
			most.Store(max(most.Load(), held[0].Value.Uint64()-held[1].Value.Uint64()))
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
			}
		}
	}()
	return func() uint64 { close(done); return most.Load() }
}
