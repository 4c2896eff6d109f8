package cases_test

import (
	"bytes"
	"context"
	"io"

	"loamline/export"
	"loamline/trace"
)

// mapOf makes the map of a locate as the main command does, and returns its
// GeoJSON. It is the only place here that knows how maps are made.
func mapOf(ctx context.Context, name string, table, job []byte) ([]byte, error) {
	opt := trace.LoadOptions{Name: name, Version: "test", Job: trace.DefaultJob()}
	if job != nil {
		var err error
		if opt.Job, err = trace.ReadJobFile(bytes.NewReader(job), "job.toml"); err != nil {
			return nil, err
		}
	}
	opt.Tables = []trace.File{{Name: "trace.csv", Size: int64(len(table)),
		Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(table)), nil }}}
	src, err := trace.Load(ctx, opt)
	if err != nil {
		return nil, err
	}
	sheet, err := trace.Build(ctx, src)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = export.GeoJSON(&out, sheet)
	return out.Bytes(), err
}
