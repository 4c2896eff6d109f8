package intake

import (
	"context"
	"errors"
	"io"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/tracetest/spent"
)

// counted counts how often it is read after its context has ended, which it ends
// itself in the middle.
type counted struct {
	io.Reader
	ctx          context.Context
	stop         context.CancelCauseFunc
	reads, after int
}

var errStop = errors.New("enough")

// Read implements io.Reader.
func (c *counted) Read(p []byte) (int, error) {
	if c.ctx.Err() != nil {
		c.after++
	}
	if c.reads++; c.reads == 3 {
		c.stop(errStop)
	}
	return c.Reader.Read(p)
}

func (c *counted) Close() error { return nil }

// Whatever is being read when the context ends is read no further, be it a table, a
// log, a layer or a site plan, and the cause comes out.
func TestLoadStopsInTheMiddleOfAFile(t *testing.T) {
	walk := func() File { return fileOf("walk.csv", "lat,lon\n44.1,-71.5\n", nil) }
	for name, with := range map[string]func(*LoadOptions, File){
		"table":     func(o *LoadOptions, f File) { o.Tables = []File{f} },
		"second":    func(o *LoadOptions, f File) { o.Tables = []File{walk(), f} },
		"log":       func(o *LoadOptions, f File) { o.GNSSLogs = []File{f} },
		"layer":     func(o *LoadOptions, f File) { o.References = []ReferenceFile{{File: f}} },
		"site plan": func(o *LoadOptions, f File) { o.Underlay = &f },
	} {
		ctx, stop := context.WithCancelCause(context.Background())
		c := &counted{Reader: spent.Layer(8 << 20), ctx: ctx, stop: stop}
		if name == "table" || name == "second" {
			c.Reader = &wideRows{rows: 20_000}
		}
		o := LoadOptions{Job: trace.DefaultJob(), Tables: []File{walk()}}
		with(&o, File{Name: "long", Open: func() (io.ReadCloser, error) { return c, nil }})
		_, err := Load(ctx, o)
		if !errors.Is(err, errStop) {
			t.Errorf("%s: %v", name, err)
		}
		if c.reads < 3 || c.after > 0 {
			t.Errorf("%s: read %d times, %d of them after the end", name, c.reads, c.after)
		}
	}
}
