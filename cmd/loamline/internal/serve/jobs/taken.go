package jobs

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"

	"loamline.example/export"
	"loamline.example/export/geojson"
	"loamline.example/trace"
	"loamline.example/trace/locate"
)

// ErrOtherMap is why an output of an old run cannot be made any more.
var ErrOtherMap = errors.New("this file was never asked for while the version of the program ran that made this map, and the version that runs now draws the map otherwise")

// taken is a run's files, ready to be read.
type taken struct {
	res   *Result
	store *Store
	of    ticket
	apart string // folder of those that were made and could not be kept
}

// take makes what is missing of a run's outputs, all or one of them, and keeps it
// in the run's folder. What cannot be kept there is still handed out, and gone
// with close: a full or read-only folder keeps nobody from his files.
func (s *Store) take(ctx context.Context, id string, number int, want func(OutputFile) bool) (*taken, error) {
	t := &taken{store: s, of: ticket{id, number}}
	missing := func(o OutputFile) bool { return o.Unmade && want(o) }
	var err error
	if t.res, err = s.Result(id, number); err != nil || !slices.ContainsFunc(t.res.Files, missing) {
		return t, err
	}
	done, err := s.demand.turn(ctx, t.of)
	if err != nil {
		return nil, err
	}
	defer done()
	if t.res, err = s.Result(id, number); err != nil || !slices.ContainsFunc(t.res.Files, missing) {
		return t, err // somebody else had it made meanwhile
	}
	var of madeOf
	if err := readJSON(s.runPath(id, number, madeOfFile), &of); err != nil {
		return nil, s.missing(id, number, err)
	}
	release, err := s.making.take(ctx, of.Job.readingCost())
	if err != nil {
		return nil, err
	}
	defer release()
	sheet, err := s.sheetAgain(ctx, t.of, of, t.res)
	if err != nil {
		return nil, err
	}
	s.demand.keep(t.of, sheet)
	if t.apart, err = s.apart(); err != nil {
		return nil, err
	}
	if err := s.writeMissing(ctx, t, sheet, missing); err != nil {
		t.close()
		return nil, err
	}
	switch err := s.keepMade(t); {
	case errors.Is(err, ErrNoJob), errors.Is(err, ErrNoRun):
		t.close()
		return nil, err
	case err != nil:
		s.log.Warn("outputs that were asked for are not kept", "job", id, "run", number, "error", err)
	default:
		t.close()
	}
	return t, nil
}

// apart makes a folder for what is about to be made, elsewhere if the folder of
// jobs takes nothing.
func (s *Store) apart() (string, error) {
	dir := filepath.Join(s.tmp(), "asked-"+newID())
	if err := os.Mkdir(dir, 0o700); err == nil {
		return dir, nil
	}
	return os.MkdirTemp("", "loamline-asked-")
}

// close removes what was not kept.
func (t *taken) close() {
	if t.apart != "" {
		os.RemoveAll(t.apart)
	}
	t.apart = ""
}

// open opens one of the files.
func (t *taken) open(o OutputFile) (io.ReadCloser, error) {
	if t.apart != "" {
		if f, err := openOutput(t.apart, o); !errors.Is(err, os.ErrNotExist) {
			return f, err
		}
	}
	return openOutput(t.store.runPath(t.of.id, t.of.number), o)
}

// sheetAgain is the sheet of a finished run, made again from what the run was
// made of unless it is still there. It must give the same map, byte for byte.
func (s *Store) sheetAgain(ctx context.Context, t ticket, of madeOf, res *Result) (*trace.Sheet, error) {
	if sheet := s.demand.kept(t); sheet != nil {
		return sheet, nil
	}
	src, _, err := s.read(ctx, of.Job, of.Run, res.Version)
	if err != nil {
		return nil, err
	}
	if err := of.Job.unaltered(src.Inputs); err != nil {
		return nil, refuseError(err)
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return nil, err
	}
	return sheet, sameMap(ctx, sheet, res)
}

// sameMap refuses a sheet that does not give the run's GeoJSON.
func sameMap(ctx context.Context, sheet *trace.Sheet, res *Result) error {
	sum, want := sha256.New(), ""
	for _, o := range res.Files {
		if o.Key == "geojson" {
			want = o.SHA256
		}
	}
	if err := geojson.Write(stoppableWriter{ctx, sum}, sheet); err != nil {
		return err
	}
	if hex.EncodeToString(sum.Sum(nil)) != want {
		return ErrOtherMap
	}
	return nil
}

// writeMissing writes what is missing into the folder apart.
func (s *Store) writeMissing(ctx context.Context, t *taken, sheet *trace.Sheet, missing func(OutputFile) bool) error {
	all := jobOutputs(sheet, t.apart)
	var outs []export.Output
	made := map[string]bool{}
	for i, o := range t.res.Files {
		if !missing(o) {
			continue
		}
		at := slices.IndexFunc(all, func(out jobOutput) bool { return out.Key == o.Key })
		if at < 0 {
			return ErrOtherMap
		}
		outs = append(outs, stoppable(ctx, all[at].Output))
		made[o.Key], t.res.Files[i].Unmade = true, false
	}
	if err := export.WriteFilesContext(ctx, outs); err != nil {
		return &notWritten{err}
	}
	for i := range t.res.Files {
		if made[t.res.Files[i].Key] {
			if err := t.res.Files[i].pack(ctx, t.apart); err != nil {
				return err
			}
		}
	}
	return nil
}

// keepMade moves what was made into the run's folder and lists it there. Killed
// in between, the run lists what it listed before, and the file is made anew.
func (s *Store) keepMade(t *taken) error {
	e, err := s.entry(t.of.id)
	if err != nil {
		return err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	job := e.job.Load()
	if job == nil {
		return ErrNoJob
	}
	if job.Run(t.of.number) == nil {
		return ErrNoRun
	}
	bytes := dirBytes(t.apart)
	if err := s.roomFor(bytes); err != nil {
		return err
	}
	made, err := os.ReadDir(t.apart)
	if err != nil {
		return err
	}
	dir := s.runPath(t.of.id, t.of.number)
	for _, f := range made {
		if err := os.Rename(filepath.Join(t.apart, f.Name()), filepath.Join(dir, f.Name())); err != nil {
			return err
		}
	}
	if err := syncDir(dir); err != nil {
		return err
	}
	if err := writeJSON(filepath.Join(dir, "result.json"), t.res); err != nil {
		return err
	}
	s.used.Add(bytes)
	return nil
}
