package intake

import (
	"context"
	"io"
)

// Until is a file, and those beside it, that can be read until the context ends: then
// it ends in the middle, with the context's cause.
func (f File) Until(ctx context.Context) File {
	open, beside := f.Open, f.Beside
	f.Open = func() (io.ReadCloser, error) {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		r, err := open()
		if err != nil {
			return nil, err
		}
		return ReaderUntil(ctx, r), nil
	}
	if beside != nil {
		f.Beside = func(ending string) (File, bool) {
			b, there := beside(ending)
			if there {
				b = b.Until(ctx)
			}
			return b, there
		}
	}
	return f
}

// ReaderUntil is a reader that ends in the middle once the context does, with its
// cause.
func ReaderUntil(ctx context.Context, r io.ReadCloser) io.ReadCloser { return untilReader{ctx, r} }

type untilReader struct {
	ctx context.Context
	io.ReadCloser
}

// Read implements io.Reader.
func (r untilReader) Read(p []byte) (int, error) {
	if r.ctx.Err() != nil {
		return 0, context.Cause(r.ctx)
	}
	return r.ReadCloser.Read(p)
}

func until(ctx context.Context, files []File) []File {
	out := make([]File, len(files))
	for i, f := range files {
		out[i] = f.Until(ctx)
	}
	return out
}
