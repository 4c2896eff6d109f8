package intake

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/spelling"
)

// errNotMapped marks the refusal of a table that lacks a header of the column map.
var errNotMapped = errors.New("the column map names a header that this file does not have")

// mappedAt tells where the job file names a header, for whoever has to mend it there.
func mappedAt(err error, job *File) error {
	var p *trace.Problem
	if !errors.Is(err, errNotMapped) || !errors.As(err, &p) || job == nil {
		return err
	}
	if at, ok := jobPlaces(*job)["columns."+p.Field]; ok {
		p.Hint += fmt.Sprintf("; it is named at %s:%d:%d", job.Name, at.line, at.column)
	}
	return err
}

// jobPlaces finds where the keys of a job file stand; none where it cannot be read.
func jobPlaces(job File) map[string]filePlace {
	r, err := job.Open()
	if err != nil {
		return nil
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, maxJobBytes))
	if err != nil {
		return nil
	}
	return keyPlaces([]byte(strings.TrimPrefix(string(text), byteOrderMark)))
}

// headersMet is what the tables of a job had for its column map.
type headersMet struct {
	tables  int
	passed  map[string]int // names of ours that a table gave under its own header
	headers []string       // of columns that nothing was read from
}

func (m *headersMet) add(t Table) {
	m.tables++
	if m.passed == nil {
		m.passed = map[string]int{}
	}
	for _, n := range t.Passed {
		m.passed[n]++
	}
	for _, c := range t.Columns {
		if c.Name == "" {
			m.headers = append(m.headers, c.Header)
		}
	}
}

// tellUnmet tells of headers in the column map that no table of the job has: what was
// meant is likely another column than the one that was read.
func (m *headersMet) tellUnmet(s *trace.Source, job *File) {
	if m.tables == 0 || job == nil {
		return
	}
	var places map[string]filePlace
	for _, ours := range ColumnNames() {
		header, mapped := s.Job.Columns[ours]
		if !mapped || m.passed[ours] < m.tables {
			continue
		}
		if places == nil {
			places = jobPlaces(*job)
		}
		at := places["columns."+ours]
		p := trace.Problem{File: job.Name, Row: at.line, Column: at.column, Field: "columns." + ours, Value: trace.Shorten(header), Warn: true,
			Cause: "no table has a column with this header; the table's own column " + ours + " was read in its place",
			Hint:  "correct the header, or take the line out of the job file"}
		if near := spelling.Nearest(header, m.headers); near != "" {
			p.Hint = fmt.Sprintf("the nearest header is %q", trace.Shorten(near))
			p.Check = remark.ColumnUnmet{Job: job.Name, Header: header, Column: ours, Near: near}
		}
		s.Problems = slices.Insert(s.Problems, 0, p)
	}
}
