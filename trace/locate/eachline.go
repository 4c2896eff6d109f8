package locate

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"

	"golang.org/x/sync/errgroup"
)

// eachLine runs f for 0 to n-1 on all cores and returns the error of the
// lowest index, so that the same input fails the same way. A panic in f comes out
// here, on the caller's goroutine, after the others have stopped: on its own it
// would end the whole program, and every other job that a server makes.
func eachLine(ctx context.Context, n int, f func(i int) error) error {
	g, running := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	var mu sync.Mutex
	first, firstErr := n, error(nil)
	fail := func(i int, err error) {
		mu.Lock()
		defer mu.Unlock()
		if i < first {
			first, firstErr = i, err
		}
	}
	for i := range n {
		if running.Err() != nil {
			break
		}
		g.Go(func() (err error) {
			defer func() {
				if r := recover(); r != nil {
					err = panicked{fmt.Sprintf("%v\n\n%s", r, debug.Stack())}
				}
				if err != nil {
					fail(i, err)
				}
			}()
			return f(i)
		})
	}
	if g.Wait() != nil {
		if p, ok := firstErr.(panicked); ok {
			panic(p)
		}
		return firstErr
	}
	return ctx.Err()
}

// panicked is a panic on its way to another goroutine, with its stack.
type panicked struct{ text string }

// Error is the panic's value and stack.
func (p panicked) Error() string { return p.text }
