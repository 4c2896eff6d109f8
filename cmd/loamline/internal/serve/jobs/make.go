package jobs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// ErrNoRun is why there is nothing to show of a run.
var ErrNoRun = errors.New("there is no finished map of this number")

// ErrNoInput says that a job has no such file.
var ErrNoInput = errors.New("this job has no file of this number")

// make makes the map of a run in tmp/ and moves it into the job.
func (s *Store) make(ctx context.Context, job Job, run Run, tell func(Progress)) (*report.Result, error) {
	tell(Progress{State: StateRunning, Stage: stageReading})
	release, err := s.making.take(ctx, job.readingCost())
	if err != nil {
		return nil, err
	}
	defer release()
	src, settings, err := s.read(ctx, job, run, s.version)
	if err != nil {
		return nil, err
	}
	if err := job.unaltered(src.Inputs); err != nil {
		return nil, err
	}
	tell(Progress{State: StateRunning, Stage: stageFitting})
	src.Progress = func(done, total int) {
		tell(Progress{State: StateRunning, Stage: stageFitting, Done: done, Total: total})
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return nil, err
	}
	if !sheet.Counts.Balanced() {
		return nil, fmt.Errorf("the rows do not add up: %+v", sheet.Counts)
	}
	tell(Progress{State: StateRunning, Stage: stageWriting})
	dir := filepath.Join(s.tmp(), "run-"+newID())
	if err := os.Mkdir(dir, 0o700); err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	result, err := writeRun(ctx, dir, sheet, settings, job)
	if err == nil {
		err = disk.WriteJSON(filepath.Join(dir, madeOfFile), madeOf{job.alone(), run})
	}
	if err == nil {
		err = s.publish(ctx, job.ID, run.Number, dir)
	}
	if err != nil {
		return nil, err
	}
	s.demand.keep(ticket{job.ID, run.Number}, sheet)
	return result, nil
}

// madeOfFile is where a run keeps the record of what it was made of.
const madeOfFile = "made-of.json"

// madeOf is what a run was made of, as it was then: answers change.
type madeOf struct {
	Job Job `json:"job"`
	Run Run `json:"run"`
}

// alone is a job without its runs.
func (j Job) alone() Job {
	j.Runs = nil
	return j
}

// publish moves a finished run into its job, unless the job is gone.
func (s *Store) publish(ctx context.Context, id string, number int, dir string) error {
	e, err := s.entry(id)
	if err != nil {
		return err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.job.Load() == nil {
		return ErrNoJob
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	bytes := disk.Bytes(dir)
	if err := s.roomFor(bytes); err != nil {
		return problem.Refuse(problem.Problem{Cause: "the folder of jobs is full: the map was made and has no room", Hint: "delete jobs or single maps, then make it again"})
	}
	to := s.runPath(id, number)
	if err := os.Mkdir(filepath.Dir(to), 0o700); err != nil && !errors.Is(err, os.ErrExist) {
		return err
	}
	if err := disk.SyncDir(s.path(id)); err != nil {
		return err
	}
	if err := disk.MoveIn(dir, to); err != nil {
		return err
	}
	s.used.Add(bytes)
	return nil
}

// read loads the files of a job with a run's settings for a version of the program,
// and returns the job file that says the same.
func (s *Store) read(ctx context.Context, job Job, run Run, version string) (trace.Source, []byte, error) {
	settings := run.Settings
	settings.Columns = job.mergedColumns(settings.Columns)
	text, err := settings.TOML()
	if err != nil {
		return trace.Source{}, nil, err
	}
	parsed, err := run.Settings.Job()
	if err != nil {
		return trace.Source{}, nil, err
	}
	opt := intake.LoadOptions{Name: job.Name, Version: version, Job: parsed,
		JobInput: &intake.File{Name: job.Name + ".toml", Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil }}}
	for i, f := range job.Files {
		file := fileAt(s.inputPath(job.ID, i), f)
		switch f.Kind {
		case KindTrace:
			file.Columns = tables.ColumnMap(f.Table.Answers, run.Settings.Columns)
			opt.Tables = append(opt.Tables, file)
		case KindGNSSLog:
			opt.GNSSLogs = append(opt.GNSSLogs, file)
		case KindReference:
			opt.References = append(opt.References, intake.ReferenceOf(referenceOf(parsed, f.Name), func() intake.File { return file }))
		}
	}
	src, err := intake.Load(ctx, opt)
	return src, text, err
}

// mergedColumns is one column map for all tables of a job, as far as they do
// not contradict each other.
func (j *Job) mergedColumns(columns map[string]string) map[string]string {
	out := map[string]string{}
	for _, f := range j.Files {
		if f.Table == nil {
			continue
		}
		for ours, theirs := range tables.ColumnMap(f.Table.Answers, columns) {
			if _, taken := out[ours]; !taken {
				out[ours] = theirs
			}
		}
	}
	return out
}

func referenceOf(job trace.Job, name string) trace.Reference {
	for _, r := range job.References {
		if r.File == name {
			return r
		}
	}
	return trace.Reference{Utility: trace.UnknownKind}
}
