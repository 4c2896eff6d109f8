package jobs

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/report"
)

// Result returns what a finished run found.
func (s *Store) Result(id string, number int) (*report.Result, error) {
	job, err := s.Job(id)
	if err != nil {
		return nil, err
	}
	r := job.Run(number)
	if r == nil || r.State != StateDone {
		return nil, ErrNoRun
	}
	var res report.Result
	if err := disk.ReadJSON(s.runPath(id, number, "result.json"), &res); err != nil {
		return nil, s.missing(id, number, err)
	}
	return &res, nil
}

// missing is why a file of a run is not there: mostly that the job or the run was
// deleted since it was looked up.
func (s *Store) missing(id string, number int, err error) error {
	if !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if s.deleted(id) {
		return ErrNoJob
	}
	if job, gone := s.Job(id); gone != nil || job.Run(number) == nil {
		return ErrNoRun
	}
	return err
}

// Output opens an output of a finished run by its key, and makes it before where
// nobody asked for it yet.
func (s *Store) Output(ctx context.Context, id string, number int, key string) (outputs.File, io.ReadCloser, error) {
	files, err := s.take(ctx, id, number, func(o outputs.File) bool { return o.Key == key })
	if err != nil {
		return outputs.File{}, nil, err
	}
	for _, o := range files.res.Files {
		if o.Key == key {
			f, err := outputs.Whole(ctx, func() (io.ReadCloser, error) { return files.open(o) })
			if err != nil {
				files.close()
				return o, nil, s.missing(id, number, err)
			}
			return o, closing{f, files.close}, nil
		}
	}
	return outputs.File{}, nil, ErrNoRun
}

// closing is a file with something to be done once it is closed.
type closing struct {
	io.ReadCloser
	then func()
}

// Close implements io.Closer.
func (c closing) Close() error {
	defer c.then()
	return c.ReadCloser.Close()
}

// Input opens a file as it was handed in, by its number from 1.
func (s *Store) Input(ctx context.Context, id string, number int) (InputFile, io.ReadCloser, error) {
	job, err := s.Job(id)
	if err != nil {
		return InputFile{}, nil, err
	}
	if number < 1 || number > len(job.Files) {
		return InputFile{}, nil, ErrNoInput
	}
	in := job.Files[number-1]
	f, err := outputs.Whole(ctx, func() (io.ReadCloser, error) { return s.openInput(id, number-1, in) })
	if err != nil {
		if s.deleted(id) { // between the look at the job and its file
			return in, nil, ErrNoJob
		}
		return in, nil, fmt.Errorf("%s, as it was handed in, cannot be read: %w", in.Name, err)
	}
	return in, f, nil
}

// openInput opens a file that was handed in, by its number from 0. Reading it to its
// end is an error where it is not what was handed in.
func (s *Store) openInput(id string, index int, in InputFile) (io.ReadCloser, error) {
	return outputs.OpenPlain(s.inputPath(id, index), outputs.File{Key: in.Name, Bytes: in.Bytes, SHA256: in.SHA256})
}

// Zip writes everything of a run: outputs, settings, and the files that went
// in; what nobody asked for yet is made, and then begin is called before the first
// byte. The same run gives the same bytes.
func (s *Store) Zip(ctx context.Context, w io.Writer, id string, number int, begin func()) error {
	job, err := s.Job(id)
	if err != nil {
		return err
	}
	files, err := s.take(ctx, id, number, func(outputs.File) bool { return true })
	if err != nil {
		return err
	}
	defer files.close()
	type part struct {
		name string
		open func() (io.ReadCloser, error)
	}
	var parts []part
	for _, o := range files.res.Files {
		parts = append(parts, part{o.Name, func() (io.ReadCloser, error) { return files.open(o) }})
	}
	for i, f := range job.Files {
		// Numbered, for two names can become one when they are made safe.
		parts = append(parts, part{"inputs/" + strconv.Itoa(i+1) + "-" + safeName(f.Name), func() (io.ReadCloser, error) { return s.openInput(id, i, f) }})
	}
	for _, p := range parts {
		f, err := outputs.Whole(ctx, p.open)
		if err != nil {
			return s.missing(id, number, err)
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	begin()
	z := zip.NewWriter(w)
	for _, p := range parts {
		f, err := p.open()
		if err != nil {
			return err
		}
		if err := addToZip(z, p.name, f); err != nil {
			return err
		}
	}
	return z.Close()
}

// addToZip adds a file and closes it.
func addToZip(z *zip.Writer, name string, f io.ReadCloser) error {
	defer f.Close()
	// The first day that the format knows, so that the same run gives the same bytes.
	to, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		return err
	}
	_, err = io.Copy(to, f)
	return err
}
