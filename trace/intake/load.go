package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"

	"loamline/trace"
)

// File is an input by its base name, wherever its bytes are kept.
type File struct {
	Name string
	Open func() (io.ReadCloser, error)
	Size int64 // in bytes; 0 where it is not known

	// Columns is a readings table's own column map; nil takes the job's.
	Columns map[string]string
}

// ReferenceFile is a layer of known lines.
type ReferenceFile struct {
	File
	Utility    trace.Utility
	CRS, Datum string  // as in trace.Reference
	Epoch      float64 // as in trace.Reference
}

// LoadOptions name what goes into a job.
type LoadOptions struct {
	Name, Version string
	Job           trace.Job
	JobInput      *File // the job file itself, for its fingerprint
	Tables        []File
	GNSSLogs      []File
	References    []ReferenceFile
}

// Load reads every input of a job. Rows that cannot be read are counted and
// reported; a file that cannot be read at all is an error.
func Load(ctx context.Context, opt LoadOptions) (trace.Source, error) {
	src := trace.Source{Name: opt.Name, Version: opt.Version, Job: opt.Job}
	for i, f := range opt.Tables {
		if err := ctx.Err(); err != nil {
			return src, err
		}
		if err := addTable(&src, f, int32(i), len(opt.GNSSLogs) > 0); err != nil {
			return src, err
		}
	}
	if len(src.Readings) == 0 {
		return src, noReadings(src)
	}
	if err := joinLogs(&src, opt.GNSSLogs); err != nil {
		return src, err
	}
	for _, f := range opt.References {
		if err := addRecords(&src, f); err != nil {
			return src, err
		}
	}
	if opt.JobInput != nil {
		if err := fingerprint(&src, *opt.JobInput, trace.InputJobFile, func(io.Reader) error { return nil }); err != nil {
			return src, err
		}
	}
	return src, nil
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
		return &trace.Problem{File: s.Inputs[0].Name, Cause: "there is no reading in it", Hint: "a readings table has a header row and one row a reading"}
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
func addTable(s *trace.Source, f File, file int32, withoutPosition bool) error {
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
	warnings, err := checkFeet(f.Name, s.Job, t.Columns)
	if err != nil {
		return err
	}
	s.Problems = append(s.Problems, warnings...)
	if len(s.Readings) == 0 {
		s.Readings = t.Readings
	} else {
		s.Readings = append(s.Readings, t.Readings...)
	}
	s.Unreadable += t.Unreadable
	s.Problems = append(s.Problems, t.Problems...)
	return nil
}

// addRecords reads one reference layer into the source.
func addRecords(s *trace.Source, f ReferenceFile) error {
	return fingerprint(s, f.File, trace.InputReference, func(r io.Reader) error {
		records, problems, err := readFramed(s, r, f)
		s.Records = append(s.Records, records...)
		s.Problems = append(s.Problems, problems...)
		return err
	})
}
