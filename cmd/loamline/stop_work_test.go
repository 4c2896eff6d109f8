package main

import (
	"bytes"
	"context"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/trace/tracetest/spent"
	"loamline.example/trace/tracetest/study"
)

// stoppedAfter runs the program and ends its context once it has asked for so many
// bytes; it tells how many it asked for in all, and how many of them afterwards.
func stoppedAfter(bytes uint64, args []string, std streams) (status int, all, after uint64) {
	all, after, _ = spent.After(bytes, context.Canceled, func(ctx context.Context) error {
		status = run(ctx, args, std)
		return nil
	})
	return status, all, after
}

// stopsSoon ends a run of the program at many points of its work, and fails where more
// than a share of the whole is done afterwards, or anything is left of it.
func stopsSoon(t *testing.T, most float64, args func(out string) []string) {
	t.Helper()
	var said, wrong bytes.Buffer
	status, all, _ := stoppedAfter(math.MaxUint64, args(filepath.Join(t.TempDir(), "out")), streams{out: &said, err: &wrong})
	if status != statusOK {
		t.Fatalf("status %d: %s", status, wrong.String())
	}
	stopped, worst := 0, 0.0
	points := study.Of(2, 8)
	for i := range points {
		percent := uint64(4 + 96*i/points)
		wrong.Reset()
		out := filepath.Join(t.TempDir(), "out")
		status, _, after := stoppedAfter(all*percent/100, args(out), streams{out: &said, err: &wrong})
		if status == statusOK {
			continue // it was through before the end was seen
		}
		stopped++
		if status != statusFailed || !strings.Contains(wrong.String(), "stopped; ") {
			t.Errorf("at %d %%: status %d, %s", percent, status, wrong.String())
		}
		share := float64(after) / float64(all)
		if worst = math.Max(worst, share); share > most {
			t.Errorf("ended at %d %% of its work, it does %.1f %% more, where %.1f %% are the most", percent, 100*share, 100*most)
		}
		for _, f := range files(t, out) {
			if strings.HasSuffix(f, ".part") || strings.HasSuffix(f, ".old") {
				t.Errorf("at %d %%: left: %s", percent, f)
			}
		}
	}
	if stopped < points*3/4 {
		t.Errorf("only %d of %d runs were ended in the middle", stopped, points)
	}
	t.Logf("%d MB in all, at most %.1f %% after the end", all>>20, 100*worst)
}

// Whatever the program is in the middle of, little more is done once it is to stop:
// the lines, sheets and tables in hand, and none after them. A job of sixty lines is
// read, fitted and written in every format; what is left at most is the end of the
// printed set, which is put together in one go.
func TestStopsWithLittleMoreWork(t *testing.T) {
	table := manyLines(t, t.TempDir(), 60, 40)
	for _, tt := range []struct {
		write string
		most  float64
	}{{"pdf", 0.15}, {"html,kmz,csv,gpx,gpkg,dxf,landxml,shp", 0.1}} {
		t.Run(tt.write, func(t *testing.T) {
			stopsSoon(t, tt.most, func(out string) []string {
				return []string{"loamline", "map", table, "--out", out, "--write", tt.write, "--quiet"}
			})
		})
	}
}

// Of a batch the jobs in hand are left as they are, and none is begun any more.
func TestBatchStopsWithLittleMoreWork(t *testing.T) {
	streets := town(t, 6, 4, 30)
	stopsSoon(t, 0.05, func(out string) []string {
		return append([]string{"loamline", "batch", "--jobs", "2", "--quiet", "--out", out}, streets...)
	})
}
