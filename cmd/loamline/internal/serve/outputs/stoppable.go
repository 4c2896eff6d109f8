package outputs

import (
	"context"
	"io"

	"loamline.example/export"
)

// Stoppable ends a file in the middle once the run is to stop.
func Stoppable(ctx context.Context, o export.Output) export.Output {
	if write := o.Write; write != nil {
		o.Write = func(w io.Writer) error { return write(stoppableWriter{ctx, w}) }
	}
	if write := o.WritePath; write != nil {
		o.WritePath = func(_ context.Context, path string) error {
			err := write(ctx, path)
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			return err
		}
	}
	return o
}

type stoppableWriter struct {
	ctx context.Context
	to  io.Writer
}

func (w stoppableWriter) Write(p []byte) (int, error) {
	if w.ctx.Err() != nil {
		return 0, context.Cause(w.ctx)
	}
	return w.to.Write(p)
}
