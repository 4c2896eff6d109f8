package jobs

import (
	"context"
	"sync"
	"time"

	"golang.org/x/sync/semaphore"

	"loamline.example/trace"
)

// demand makes outputs of finished runs that are asked for: each once, and few
// side by side.
type demand struct {
	slots *semaphore.Weighted
	mu    sync.Mutex
	busy  map[ticket]chan struct{} // closed when the run's outputs are made
	last  ticket
	sheet *trace.Sheet // of last, for a while: whoever sees a map finished takes its files
	drop  *time.Timer
}

func newDemand() *demand {
	return &demand{slots: semaphore.NewWeighted(2), busy: map[ticket]chan struct{}{}}
}

// A sheet is kept in memory for so long after it was used, if it is no larger.
const (
	keptSheet     = time.Minute
	keptSheetRows = 100_000
)

// keep holds a run's sheet ready.
func (d *demand) keep(t ticket, sheet *trace.Sheet) {
	if sheet.Counts.Rows > keptSheetRows {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.drop != nil {
		d.drop.Stop()
	}
	d.last, d.sheet = t, sheet
	d.drop = time.AfterFunc(keptSheet, func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.sheet == sheet {
			d.sheet = nil
		}
	})
}

func (d *demand) kept(t ticket) *trace.Sheet {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.last != t {
		return nil
	}
	return d.sheet
}

// turn waits until nobody else makes outputs of this run and few do of others.
func (d *demand) turn(ctx context.Context, t ticket) (done func(), err error) {
	mine := make(chan struct{})
	for {
		d.mu.Lock()
		others := d.busy[t]
		if others == nil {
			d.busy[t] = mine
		}
		d.mu.Unlock()
		if others == nil {
			break
		}
		select {
		case <-others:
		case <-ctx.Done():
			return nil, context.Cause(ctx)
		}
	}
	leave := func() {
		d.mu.Lock()
		delete(d.busy, t)
		d.mu.Unlock()
		close(mine)
	}
	if d.slots.Acquire(ctx, 1) != nil {
		leave()
		return nil, context.Cause(ctx)
	}
	return func() { d.slots.Release(1); leave() }, nil
}
