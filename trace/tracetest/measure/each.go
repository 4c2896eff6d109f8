package measure

import (
	"context"
	"sync"
	"sync/atomic"
)

// each calls f for 0 to n-1 on some goroutines and returns the error of the
// lowest number that failed.
func each(ctx context.Context, n, workers int, f func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range max(1, workers) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil {
					return
				}
				errs[i] = f(i)
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}
