package batch

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
)

// sideBySide does something with every job, so many at once, begun in their order.
// After a stop no more are begun.
func sideBySide(ctx context.Context, jobs []*work, atOnce int, do func(*work)) {
	next := make(chan *work)
	var wg sync.WaitGroup
	for range min(atOnce, len(jobs)) {
		wg.Go(func() {
			for w := range next {
				do(w)
			}
		})
	}
	for _, w := range jobs {
		if ctx.Err() != nil {
			break
		}
		next <- w
	}
	close(next)
	wg.Wait()
}

// guarded does something and makes an error of a panic: a mistake of the program
// in one job must not take the others with it.
func guarded(do func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the program failed, which is a fault in the program: please report it with the files and this: %v\n\n%s", p, debug.Stack())
		}
	}()
	return do()
}

// turns lets jobs pass one after the other, in their order.
type turns struct {
	mu    sync.Mutex
	moved *sync.Cond
	next  int
	past  map[int]bool
}

func newTurns() *turns {
	t := &turns{past: map[int]bool{}}
	t.moved = sync.NewCond(&t.mu)
	return t
}

// wait waits until every job before has passed. Jobs are begun in their order, so
// the one whose turn it is is always at work.
func (t *turns) wait(job int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for t.next < job {
		t.moved.Wait()
	}
}

// pass tells that a job needs no turn any more; it may be told twice.
func (t *turns) pass(job int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if job >= t.next {
		t.past[job] = true
	}
	for t.past[t.next] {
		delete(t.past, t.next)
		t.next++
	}
	t.moved.Broadcast()
}
