package batch

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// A panic in a job is that job's failure.
func TestGuarded(t *testing.T) {
	err := guarded(func() error { panic("broken inside") })
	if err == nil || !strings.Contains(err.Error(), "broken inside") || !strings.Contains(err.Error(), "please report it") {
		t.Error(err)
	}
}

// Jobs pass in their order, whichever is ready first, and one that needs no turn
// holds up no other.
func TestTurns(t *testing.T) {
	var jobs []*work
	for i := range 40 {
		jobs = append(jobs, &work{number: i})
	}
	turns := newTurns()
	var mu sync.Mutex
	var order, want []int
	sideBySide(t.Context(), jobs, 7, func(w *work) {
		defer turns.pass(w.number)
		time.Sleep(time.Duration((w.number*7)%5) * time.Millisecond)
		if w.number%3 == 0 {
			return // it failed before
		}
		turns.wait(w.number)
		mu.Lock()
		defer mu.Unlock()
		order = append(order, w.number)
	})
	for i := range 40 {
		if i%3 != 0 {
			want = append(want, i)
		}
	}
	if !slices.Equal(order, want) {
		t.Errorf("%v", order)
	}
}

// After a stop no job is begun.
func TestSideBySideStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	var mu sync.Mutex
	begun := 0
	sideBySide(ctx, make([]*work, 1000), 4, func(*work) {
		mu.Lock()
		defer mu.Unlock()
		if begun++; begun == 10 {
			stop()
		}
	})
	if begun < 10 || begun > 20 {
		t.Errorf("%d jobs were begun", begun)
	}
}
