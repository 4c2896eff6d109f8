package cases_test

import (
	"bytes"
	"context"
	"io"

	"loamline.example/export/geojson"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// mapOf makes the map of a locate as the main command does, and returns its
// GeoJSON. It is the only place here that knows how maps are made.
func mapOf(ctx context.Context, name string, table, job []byte) ([]byte, error) {
	opt := intake.LoadOptions{Name: name, Version: "test", Job: trace.DefaultJob()}
	if job != nil {
		var err error
		if opt.Job, err = intake.ReadJobFile(bytes.NewReader(job), "job.toml"); err != nil {
			return nil, err
		}
	}
	opt.Tables = []intake.File{{Name: "trace.csv", Size: int64(len(table)),
		Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(table)), nil }}}
	src, err := intake.Load(ctx, opt)
	if err != nil {
		return nil, err
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = geojson.Write(&out, sheet)
	return out.Bytes(), err
}
