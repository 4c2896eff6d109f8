package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"

	"loamline.example/trace"
)

// File is an input by its base name, wherever its bytes are kept.
type File struct {
	Name string
	Open func() (io.ReadCloser, error)
	Size int64 // in bytes; 0 where it is not known

	// Beside opens the file of the same name with another ending, such as ".dbf",
	// which belongs to a Shapefile; nil where files have no neighbours.
	Beside func(ending string) (File, bool)

	// Columns is a readings table's own column map; nil takes the job's.
	Columns map[string]string
}

// ReferenceFile is a layer of known lines.
type ReferenceFile struct {
	File
	Utility    trace.Utility
	CRS, Datum string  // as in trace.Reference
	Epoch      float64 // as in trace.Reference

	Layer      string // of a file with several, or the table of a database
	NameColumn string // that the lines' names are in; empty takes the usual ones
	Background bool   // kerbs and buildings, and no lines of a utility
	Database   string // postgres://… instead of a file; never shown
}

// ReferenceOf is a layer as a job names it; file opens what is no database.
func ReferenceOf(r trace.Reference, file func() File) ReferenceFile {
	out := ReferenceFile{Utility: r.Utility, CRS: r.CRS, Datum: r.Datum, Epoch: r.Epoch, Layer: r.Layer,
		NameColumn: r.NameColumn, Background: r.Role == trace.RoleBackground}
	if r.InDatabase() {
		out.Name, out.Database, out.Layer = r.ShownName(), r.File, r.Table
		return out
	}
	out.File = file()
	return out
}

// LoadOptions name what goes into a job.
type LoadOptions struct {
	Name, Version string
	Job           trace.Job
	JobInput      *File // the job file itself, for its fingerprint
	Tables        []File
	GNSSLogs      []File
	References    []ReferenceFile
	Underlay      *File // the site plan that the job names
}

// Load reads every input of a job, in the middle of which it ends with the context.
// Rows that cannot be read are counted and reported; a file that cannot be read at all
// is an error.
func Load(ctx context.Context, opt LoadOptions) (trace.Source, error) {
	src := trace.Source{Name: opt.Name, Version: opt.Version, Job: opt.Job}
	var met headersMet
	for i, f := range opt.Tables {
		if err := addTable(&src, f.Until(ctx), int32(i), len(opt.GNSSLogs) > 0, &met); err != nil {
			return src, mappedAt(err, opt.JobInput)
		}
	}
	met.tellUnmet(&src, opt.JobInput)
	if len(src.Readings) == 0 {
		return src, noReadings(src)
	}
	if err := joinLogs(&src, until(ctx, opt.GNSSLogs)); err != nil {
		return src, err
	}
	for _, f := range opt.References {
		if err := addRecords(ctx, &src, f); err != nil {
			return src, err
		}
	}
	if opt.Underlay != nil {
		if err := addUnderlay(ctx, &src, opt.Underlay.Until(ctx)); err != nil {
			return src, err
		}
	}
	if opt.JobInput != nil {
		if err := fingerprint(&src, *opt.JobInput, trace.InputJobFile, func(io.Reader) error { return nil }); err != nil {
			return src, err
		}
		src.LinePlaces = linePlaces(src.Job, *opt.JobInput)
	}
	return src, nil
}

// linePlaces finds where a job file names the lines of a job; none where it has others.
func linePlaces(job trace.Job, file File) []trace.FilePlace {
	if len(job.Lines) == 0 {
		return nil
	}
	places := jobPlaces(file)
	out := make([]trace.FilePlace, len(job.Lines))
	for i := range out {
		at, ok := places[fmt.Sprintf("line.%d.name", i)]
		if !ok {
			return nil
		}
		out[i] = trace.FilePlace{Row: at.line, Column: at.column}
	}
	return out
}

// fingerprint reads a file through f to its end and lists it with its SHA-256.
func fingerprint(s *trace.Source, file File, kind trace.InputKind, f func(io.Reader) error) error {
	r, err := file.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	h := sha256.New()
	if err := f(io.TeeReader(r, h)); err != nil {
		return err
	}
	if _, err := io.Copy(h, r); err != nil {
		return fmt.Errorf("%s: %w", file.Name, err)
	}
	s.Inputs = append(s.Inputs, trace.Input{Name: file.Name, SHA256: sum(h), Kind: kind})
	return nil
}

func sum(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)) }

// noReadings says why a job has nothing to draw, with the first row's trouble.
func noReadings(s trace.Source) error {
	if s.Unreadable == 0 {
		return &trace.Problem{File: s.Inputs[0].Name, Cause: "there is no reading in it", Hint: "a readings table has a header row and one row per reading"}
	}
	for i := range s.Problems {
		if !s.Problems[i].Warn {
			p := s.Problems[i]
			p.Cause = fmt.Sprintf("none of the %d rows could be read; the first: %s", s.Unreadable, p.Cause)
			return &p
		}
	}
	return &trace.Problem{File: s.Inputs[0].Name, Cause: fmt.Sprintf("none of the %d rows could be read", s.Unreadable)}
}

// addTable reads one readings table into the source.
func addTable(s *trace.Source, f File, file int32, withoutPosition bool, met *headersMet) error {
	var t Table
	columns := f.Columns
	if columns == nil {
		columns = s.Job.Columns
	}
	err := fingerprint(s, f, trace.InputTable, func(r io.Reader) (err error) {
		t, err = ReadTable(r, f.Name, file, TableOptions{Columns: columns, WithoutPosition: withoutPosition, Bytes: f.Size})
		return err
	})
	if err != nil {
		return err
	}
	s.Inputs[len(s.Inputs)-1].DepthHeader = t.headerOf("depth")
	warnings, err := checkFeet(f.Name, s.Job, t.Columns, t.Readings)
	if err != nil {
		return err
	}
	s.Problems = append(s.Problems, warnings...)
	if f.Columns == nil {
		met.add(t)
	}
	if len(s.Readings) == 0 {
		s.Readings = t.Readings
	} else {
		s.Readings = append(s.Readings, t.Readings...)
	}
	s.Unreadable += t.Unreadable
	s.Problems = append(s.Problems, t.Problems...)
	return nil
}

// headerOf is the header of the column that gives a field, "" for none.
func (t *Table) headerOf(field string) string {
	for _, c := range t.Columns {
		if columns[c.Name].field == field {
			return c.Header
		}
	}
	return ""
}

// addRecords reads one reference layer into the source.
func addRecords(ctx context.Context, s *trace.Source, f ReferenceFile) error {
	if f.Database != "" {
		return addDatabase(ctx, s, f)
	}
	f.File = f.File.Until(ctx)
	return fingerprint(s, f.File, trace.InputReference, func(r io.Reader) error {
		return readRecords(s, f, func(l *layerReader) error { return l.readFile(s, r) })
	})
}

// CheckReference reads a layer as Load does and forgets it: whether it can be used.
func CheckReference(ctx context.Context, f ReferenceFile) error {
	s := trace.Source{Job: trace.DefaultJob()}
	return addRecords(ctx, &s, f)
}
