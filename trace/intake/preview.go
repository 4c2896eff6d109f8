package intake

import (
	"io"
	"strings"

	"loamline.example/trace"
)

// Preview is how a readings table would be read, as far as its header and first
// rows tell: for asking about it before anything is judged.
type Preview struct {
	Separator string // "," ";" or a tab
	Columns   []PreviewColumn
}

// PreviewColumn is a column of the file.
type PreviewColumn struct {
	Header string
	Name   string   // ours, with its unit; empty where the column is not used
	Sample []string // its first values that are not empty, as the file has them
}

// maxSample is how many values of a column a preview shows.
const maxSample = 4

// ReadPreview reads the header of a readings table and its first rows. Unlike
// ReadTable it takes a table whose positions cannot be told yet; the error is
// for files that have no header of a table at all.
func ReadPreview(r io.Reader, name string, opt TableOptions, rows int) (Preview, error) {
	t, err := openTable(r, name, 0, opt)
	if err != nil {
		return Preview{}, err
	}
	p := Preview{Separator: string(t.scan.comma), Columns: make([]PreviewColumn, len(t.use))}
	for i, c := range t.table.Columns {
		p.Columns[i] = PreviewColumn{Header: c.Header, Name: c.Name}
	}
	for range rows {
		rec, err := t.scan.next(len(t.use))
		if err != nil {
			break // ReadTable reports it
		}
		if rec.fault != faultNone || len(rec.fields) != len(t.use) {
			continue
		}
		for i := range p.Columns {
			c := &p.Columns[i]
			if v := strings.TrimSpace(rec.field(i)); v != "" && len(c.Sample) < maxSample {
				c.Sample = append(c.Sample, strings.Clone(trace.Shorten(v)))
			}
		}
	}
	return p, nil
}
