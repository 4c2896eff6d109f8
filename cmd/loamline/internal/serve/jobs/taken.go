package jobs

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/export"
	"loamline.example/trace"
	"loamline.example/trace/locate"
)

// taken is a run's files, ready to be read.
type taken struct {
	res   *report.Result
	store *Store
	of    ticket
	apart string // folder of those that were made and could not be kept
}

// take makes what is missing of a run's outputs, all or one of them, and keeps it
// in the run's folder. What cannot be kept there is still handed out, and gone
// with close: a full or read-only folder keeps nobody from his files.
func (s *Store) take(ctx context.Context, id string, number int, want func(outputs.File) bool) (*taken, error) {
	t := &taken{store: s, of: ticket{id, number}}
	missing := func(o outputs.File) bool { return o.Unmade && want(o) }
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
	if err := disk.ReadJSON(s.runPath(id, number, madeOfFile), &of); err != nil {
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
func (t *taken) open(o outputs.File) (io.ReadCloser, error) {
	if t.apart != "" {
		if f, err := outputs.Open(t.apart, o); !errors.Is(err, os.ErrNotExist) {
			return f, err
		}
	}
	return outputs.Open(t.store.runPath(t.of.id, t.of.number), o)
}

// sheetAgain is the sheet of a finished run, made again from what the run was
// made of unless it is still there. It must give the same map, byte for byte.
func (s *Store) sheetAgain(ctx context.Context, t ticket, of madeOf, res *report.Result) (*trace.Sheet, error) {
	if sheet := s.demand.kept(t); sheet != nil {
		return sheet, nil
	}
	src, _, err := s.read(ctx, of.Job, of.Run, res.Version)
	if err != nil {
		return nil, err
	}
	if err := of.Job.unaltered(src.Inputs); err != nil {
		return nil, problem.RefuseError(err)
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return nil, err
	}
	return sheet, outputs.SameMap(ctx, sheet, res.Files)
}

// writeMissing writes what is missing into the folder apart.
func (s *Store) writeMissing(ctx context.Context, t *taken, sheet *trace.Sheet, missing func(outputs.File) bool) error {
	all := outputs.All(sheet, t.apart)
	var outs []export.Output
	made := map[string]bool{}
	for i, o := range t.res.Files {
		if !missing(o) {
			continue
		}
		at := slices.IndexFunc(all, func(out outputs.Output) bool { return out.Key == o.Key })
		if at < 0 {
			return outputs.ErrOtherMap
		}
		outs = append(outs, outputs.Stoppable(ctx, all[at].Output))
		made[o.Key], t.res.Files[i].Unmade = true, false
	}
	if err := export.WriteFilesContext(ctx, outs); err != nil {
		return &disk.NotWritten{Err: err}
	}
	for i := range t.res.Files {
		if made[t.res.Files[i].Key] {
			if err := t.res.Files[i].Pack(ctx, t.apart); err != nil {
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
	bytes := disk.Bytes(t.apart)
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
	if err := disk.SyncDir(dir); err != nil {
		return err
	}
	if err := disk.WriteJSON(filepath.Join(dir, "result.json"), t.res); err != nil {
		return err
	}
	s.used.Add(bytes)
	return nil
}
