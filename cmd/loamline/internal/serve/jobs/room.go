package jobs

import (
	"context"

	"golang.org/x/sync/semaphore"
)

// How many bytes of memory a byte of a file takes while it is read, measured on
// tables of a million rows and on layers of 80 MB.
const (
	tableCost = 7
	layerCost = 6
)

// roomBytes is how much memory reading files may take at the same time; one
// file alone may take more.
const roomBytes = 600 << 20

// room bounds the memory of what is read side by side.
type room struct {
	bytes int64
	free  *semaphore.Weighted
}

func newRoom(bytes int64) room { return room{bytes, semaphore.NewWeighted(bytes)} }

// take waits until there is room for so many bytes and returns what gives it
// free again.
func (r room) take(ctx context.Context, bytes int64) (release func(), err error) {
	bytes = max(1, min(bytes, r.bytes))
	if err := r.free.Acquire(ctx, bytes); err != nil {
		return nil, context.Cause(ctx)
	}
	return func() { r.free.Release(bytes) }, nil
}

// readingCost is what the files of a job take while its map is made.
func (j *Job) readingCost() int64 {
	var sum int64
	for _, f := range j.Files {
		if f.Kind == KindReference {
			sum += f.Bytes * layerCost
		} else {
			sum += f.Bytes * tableCost
		}
	}
	return sum
}
