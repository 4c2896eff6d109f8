package measure

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
	"loamline.example/trace/tracetest"
)

// mapped is a job as the whole program saw it: from the bytes of its files to
// the finished sheet.
type mapped struct {
	job   tracetest.Job
	sheet *trace.Sheet
	rows  map[row]truthRef // which simulated reading a row of a table is
}

type row struct{ file, line int32 }

type truthRef struct{ trace, reading int }

// runMap hands a job in, in a layout.
func runMap(ctx context.Context, j tracetest.Job, l tracetest.Layout) (mapped, error) {
	m := mapped{job: j, rows: map[row]truthRef{}}
	files, err := j.Files(l)
	if err != nil {
		return m, err
	}
	opt := intake.LoadOptions{Name: j.Family, Version: "measured"}
	var refs []intake.File
	for _, f := range files {
		in := intake.File{Name: f.Name, Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(f.Bytes)), nil }}
		switch f.Name {
		case tracetest.JobFile:
			if opt.Job, err = intake.ReadJobFile(bytes.NewReader(f.Bytes), f.Name); err != nil {
				return m, err
			}
		case tracetest.ReferenceFile:
			refs = append(refs, in)
		case tracetest.TruthFile:
		default:
			opt.Tables = append(opt.Tables, in)
		}
	}
	for _, f := range refs {
		opt.References = append(opt.References, intake.ReferenceFile{File: f})
	}
	m.findRows(l, len(opt.Tables))
	src, err := intake.Load(ctx, opt)
	if err != nil {
		return m, fmt.Errorf("%s seed %d: %w", j.Family, j.Seed, err)
	}
	if m.sheet, err = locate.Build(ctx, src); err != nil {
		return m, fmt.Errorf("%s seed %d: %w", j.Family, j.Seed, err)
	}
	return m, nil
}

// findRows notes on which line of which table each reading stands.
func (m *mapped) findRows(l tracetest.Layout, files int) {
	first := int32(2) // below the header
	if l.Comments {
		first += 2
	}
	file, at := int32(0), first
	for t, tr := range m.job.Traces {
		if t > 0 && files > 1 {
			file, at = file+1, first
		}
		for i := range tr.Readings {
			m.rows[row{file, at}] = truthRef{t, i}
			at++
		}
	}
}

// mainLine is what became of the job's first trace.
func (m mapped) mainLine() (*trace.Line, error) {
	for i := range m.sheet.Lines {
		for _, r := range m.sheet.Lines[i].Readings {
			if ref, ok := m.rows[row{r.File, r.Row}]; ok && ref.trace == 0 {
				return &m.sheet.Lines[i], nil
			}
		}
	}
	return nil, fmt.Errorf("%s seed %d: the main line is not on the sheet", m.job.Family, m.job.Seed)
}

// truth returns the simulated reading behind one of the sheet's.
func (m mapped) truth(r trace.Reading) (tracetest.Reading, bool) {
	ref, ok := m.rows[row{r.File, r.Row}]
	if !ok {
		return tracetest.Reading{}, false
	}
	return m.job.Traces[ref.trace].Readings[ref.reading], true
}

// toJob brings a place from the sheet's plane to the job's.
func (m mapped) toJob(p geo.XY) geo.XY { return m.job.Plane.XY(m.sheet.Plane.LonLat(p)) }

// curve is the centerline in the job's plane.
func (m mapped) curve(c *trace.Centerline) curve {
	if c == nil {
		return nil
	}
	var out curve
	for _, part := range c.Parts {
		var ps []point
		for _, v := range part.Vertices {
			ps = append(ps, point{m.toJob(v.Pos), v.DepthM, v.Horizontal95M, v.Depth95M})
		}
		out = append(out, ps)
	}
	return out
}
