package jobs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"loamline/export"
	"loamline/trace"
	"loamline/trace/intake"
	"loamline/trace/locate"
)

// ErrNoRun is why there is nothing to show of a run.
var ErrNoRun = errors.New("there is no finished map of this number")

// ErrNoInput says that a job has no such file.
var ErrNoInput = errors.New("this job has no file of this number")

// outputName is what every output is called on the disk, before its ending.
const outputName = "map"

// make makes the map of a run in tmp/ and moves it into the job.
func (s *Store) make(ctx context.Context, job Job, run Run, tell func(Progress)) (*Result, error) {
	tell(Progress{State: StateRunning, Stage: stageReading})
	release, err := s.making.take(ctx, job.readingCost())
	if err != nil {
		return nil, err
	}
	defer release()
	src, settings, err := s.read(ctx, job, run)
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
	if err != nil {
		return nil, err
	}
	return result, s.publish(ctx, job.ID, run.Number, dir)
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
	bytes := dirBytes(dir)
	if err := s.roomFor(bytes); err != nil {
		return refuse(Problem{Cause: "the folder of jobs is full: the map was made and has no room", Hint: "delete jobs or single maps, then make it again"})
	}
	to := s.runPath(id, number)
	if err := os.Mkdir(filepath.Dir(to), 0o700); err != nil && !errors.Is(err, os.ErrExist) {
		return err
	}
	if err := syncDir(s.path(id)); err != nil {
		return err
	}
	if err := moveIn(dir, to); err != nil {
		return err
	}
	s.used.Add(bytes)
	return nil
}

// read loads the files of a job with a run's settings, and returns the job file
// that says the same.
func (s *Store) read(ctx context.Context, job Job, run Run) (trace.Source, []byte, error) {
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
	opt := intake.LoadOptions{Name: job.Name, Version: s.version, Job: parsed,
		JobInput: &intake.File{Name: job.Name + ".toml", Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil }}}
	for i, f := range job.Files {
		file := stoppableFile(ctx, fileAt(s.inputPath(job.ID, i), f))
		switch f.Kind {
		case KindTrace:
			file.Columns = columnMap(f.Table.Answers, run.Settings.Columns)
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
		for ours, theirs := range columnMap(f.Table.Answers, columns) {
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

// writeRun writes all files of a run into a folder that nobody sees yet.
func writeRun(ctx context.Context, dir string, sheet *trace.Sheet, settings []byte, job Job) (*Result, error) {
	prefix := filepath.Join(dir, sheet.Name)
	outs := export.JobOutputs(sheet, dir, export.FormatNames(), export.JobOptions{})
	result := resultOf(sheet)
	result.Inputs, result.Columns = job.inputs(), job.meanings()
	for i := range outs {
		ending := strings.TrimPrefix(outs[i].Path, prefix)
		outs[i].Path = filepath.Join(dir, outputName+ending)
		key := strings.TrimLeft(ending, ".-")
		result.Files = append(result.Files, OutputFile{Key: key, Name: sheet.Name + ending, Shows: showsOf(key)})
		outs[i] = stoppable(ctx, outs[i])
	}
	outs = append(outs,
		export.Output{Path: filepath.Join(dir, "settings.toml"), Write: func(w io.Writer) error { _, err := w.Write(settings); return err }},
		export.Output{Path: filepath.Join(dir, "ledger.jsonl"), Write: func(w io.Writer) error { return writeLedger(w, sheet) }})
	if err := export.WriteFilesContext(ctx, outs); err != nil {
		return nil, &notWritten{err}
	}
	result.Files = append(result.Files, OutputFile{Key: "settings.toml", Name: sheet.Name + ".toml", Shows: "job file: these settings for the command line"})
	for i := range result.Files {
		if err := result.Files[i].pack(ctx, dir); err != nil {
			return nil, err
		}
	}
	return result, writeJSON(filepath.Join(dir, "result.json"), result)
}

// notWritten is why the files of a run could not be written. Its words name
// places on the server's disk and are for the log.
type notWritten struct{ error }

func (n *notWritten) Unwrap() error { return n.error }

// stoppable ends a file in the middle once the run is to stop.
func stoppable(ctx context.Context, o export.Output) export.Output {
	if write := o.Write; write != nil {
		o.Write = func(w io.Writer) error { return write(stoppableWriter{ctx, w}) }
	}
	if write := o.WritePath; write != nil {
		o.WritePath = func(path string) error {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			return write(path)
		}
	}
	return o
}

type stoppableWriter struct {
	ctx context.Context
	to  io.Writer
}

func (w stoppableWriter) Write(p []byte) (int, error) {
	if w.ctx.Err() != nil {
		return 0, context.Cause(w.ctx)
	}
	return w.to.Write(p)
}

// outputFile is the name on the disk of an output that a Result lists.
func outputFile(key string) string {
	switch {
	case key == "settings.toml":
		return key
	case strings.Contains(key, "."):
		return outputName + "-" + key
	}
	return outputName + "." + key
}

func showsOf(key string) string {
	switch key {
	case "shp.zip":
		return export.FormatWords("shp")
	case "landxml.xml":
		return export.FormatWords("landxml")
	case "lines.csv":
		return "table of the lines by station"
	case "stakeout.csv":
		return "table of the points to stake out, with what to measure them from"
	case "records.csv":
		return "table of how far records lie from the traces"
	case "cautions.txt":
		return "cautions that belong to the tables"
	case "readings.csv":
		return "table of every reading with its fate"
	}
	return export.FormatWords(key)
}
