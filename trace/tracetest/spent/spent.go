package spent

import (
	"context"
	"runtime"
	"runtime/metrics"
	"time"
)

func read(name string) uint64 {
	sample := []metrics.Sample{{Name: name}}
	metrics.Read(sample)
	return sample[0].Value.Uint64()
}

// allocated is how much memory the program has asked for so far.
func allocated() uint64 { return read("/gc/heap/allocs:bytes") }

// heap is how much memory holds objects, garbage that is not yet collected included.
func heap() int64 { return int64(read("/memory/classes/heap/objects:bytes")) }

// After does something whose context ends, for a reason, once it has asked for so many
// bytes of memory, and tells how many it asked for in all and how many of them
// afterwards.
func After(bytes uint64, why error, do func(context.Context) error) (all, after uint64, err error) {
	ctx, stop := context.WithCancelCause(context.Background())
	defer stop(nil)
	runtime.GC()
	before := allocated()
	stopped := make(chan uint64, 1)
	watched := watch(200*time.Microsecond, func() bool {
		if allocated()-before < bytes {
			return false
		}
		stop(why)
		stopped <- allocated()
		return true
	})
	err = do(ctx)
	end := allocated()
	watched()
	select {
	case at := <-stopped:
		after = end - min(end, at) // it may have been seen only as all was over
	default:
	}
	return end - before, after, err
}

// PeakHeap is by how much the heap grows at most while something is done, garbage that
// is not yet collected included: what the machine has to have. It is asked for several
// hundred times a second.
func PeakHeap(work func()) int64 {
	runtime.GC()
	before, peak := heap(), int64(0)
	watched := watch(2*time.Millisecond, func() bool {
		peak = max(peak, heap()-before)
		return false
	})
	work()
	watched()
	return max(peak, heap()-before)
}

// watch looks at something at short intervals until it has seen enough or the returned
// function is called, which returns once nobody looks any more.
func watch(every time.Duration, enough func() bool) (end func()) {
	done, ended := make(chan bool), make(chan bool)
	go func() {
		defer close(ended)
		for {
			select {
			case <-done:
				return
			case <-time.After(every):
				if enough() {
					return
				}
			}
		}
	}()
	return func() {
		close(done)
		<-ended
	}
}
