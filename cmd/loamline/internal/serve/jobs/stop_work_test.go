//go:build !race

package jobs

import (
	"context"
	"errors"
	"math"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/trace/tracetest/spent"
	"loamline.example/trace/tracetest/study"
)

// Cancelled, or as the server shuts down, a run does little more, wherever it is, and
// an output that is made as somebody takes it likewise, a printed set in the middle
// above all. Nothing of either is kept.
func TestStopsWithLittleMoreWork(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job := handInText(t, s, bigTrace(50, 60))
	runMade(t, s, job.ID)
	job, err := s.Job(job.ID)
	if err != nil {
		t.Fatal(err)
	}
	next := *job.Latest()
	tell := func(Progress) {}
	sheet := s.demand.kept(ticket{job.ID, 1})
	if sheet == nil {
		t.Fatal("the map is not kept")
	}
	// To put a printed set together, with its fonts, is one call of a library and asks for
	// some 50 MB whatever the job; with that, a sixth of the whole is the most otherwise.
	const share, together = 1.0 / 6, 64 << 20
	for name, do := range map[string]func(context.Context) error{
		"run": func(ctx context.Context) error {
			next.Number++
			_, err := s.make(ctx, job, next, tell)
			return err
		},
		"printed set": func(ctx context.Context) error {
			res, err := s.Result(job.ID, 1)
			if err != nil {
				return err
			}
			return s.writeMissing(ctx, &taken{res: res, store: s, of: ticket{job.ID, 1}, apart: t.TempDir()}, sheet, func(o outputs.File) bool { return o.Key == "pdf" })
		},
	} {
		all, _, err := spent.After(math.MaxUint64, nil, do)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		stops, worst := 0, 0.0
		points := study.Of(4, 6)
		for i := range points {
			percent, why := uint64(5+108*i/points), errCancelled
			if i%2 == 1 {
				why = errClosing
			}
			_, after, err := spent.After(all*percent/100, why, do)
			if err == nil {
				continue // it was through before the end was seen
			}
			stops++
			if !errors.Is(err, why) && !errors.Is(err, context.Canceled) {
				t.Errorf("%s at %d %%: %v", name, percent, err)
			}
			most := share * float64(all)
			if name == "printed set" {
				most = math.Max(most, together)
			}
			if worst = math.Max(worst, float64(after)); float64(after) > most {
				t.Errorf("%s, ended at %d %% of %d MB: %d MB more are asked for, where %.0f are the most", name, percent, all>>20, after>>20, most/(1<<20))
			}
		}
		if stops*3 < points*2 {
			t.Errorf("%s: ended in the middle %d times of %d only", name, stops, points)
		}
		t.Logf("%s: %d MB in all, at most %.1f MB after the end", name, all>>20, worst/(1<<20))
	}
}
