package batch

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"sync"
	"time"

	"loamline.example/export"
	"loamline.example/export/archive"
	"loamline.example/export/member"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Options are a batch as asked for.
type Options struct {
	Folders []string // the inputs
	Out     string   // folder of the outputs
	Log     string   // file of the log
	Write   []string // further outputs
	Formats export.JobOptions
	Archive archive.Archive // nil for none
	AtOnce  int             // jobs at once
	Shard   Shard           // which of the jobs are made here

	// ReachM is how far from a job's readings neighbours are looked for.
	ReachM float64
	// Program and Settings stand for all that the outputs depend on beside the
	// inputs: where either is another, every job is made again.
	Program, Settings string
	// Load opens what goes into a job.
	Load func(Job) (intake.LoadOptions, error)
	// Paths are the files that go into a job, none of which may be written over.
	Paths     func(Job, trace.Job) []string
	NeedsEyes func(*trace.Sheet) bool
	// Progress, if set, is told how far the batch is; from any goroutine.
	Progress func(Progress)
}

// Progress is how far a batch is.
type Progress struct {
	Jobs, Done  int   // Done are through, in whatever way
	Readings    int   // of those that are through
	Work, Spent int64 // in bytes of readings to go through in both passes
}

// Report is what became of a batch.
type Report struct {
	Entries    []Entry // in the order of the jobs
	PassedOver []string
	Log        string
	Stopped    bool
}

// work is a job on its way through both passes.
type work struct {
	job         Job
	number      int
	ours        bool // made here, and not by another program
	bytes       int64
	load        intake.LoadOptions
	prints      []string
	printsKnown bool
	fitted      fitted
	sheet       *trace.Sheet // held from the first pass
	entry       Entry
	spent       time.Duration
}

// run is a batch under way.
type run struct {
	Options
	jobs    []*work
	fits    []error // of the first pass over each
	index   *index
	ours    archive.Identities
	turns   *turns
	log     *log
	archive sync.Mutex // an archive serves one at a time

	mu       sync.Mutex
	held     int
	progress Progress
}

// ErrNoJobs says that there is nothing to do.
var ErrNoJobs = errors.New("no job in them: a job is a folder with a job file (.toml) and its readings tables, or a table (.csv, .tsv) by itself")

// Run makes the maps of all jobs in the folders. A job that fails is told in the
// report and stops no other; the error is for what stops all of them.
func Run(ctx context.Context, opt Options) (Report, error) {
	if err := ownOut(opt.Out, opt.Folders); err != nil {
		return Report{}, err
	}
	found, err := Find(opt.Folders, opt.Out)
	if err != nil {
		return Report{}, err
	}
	if len(found.Jobs) == 0 {
		return Report{}, fmt.Errorf("the folders have %w", ErrNoJobs)
	}
	b := &run{Options: opt, turns: newTurns(), fits: make([]error, len(found.Jobs))}
	if b.log, err = openLog(opt.Log); err != nil {
		return Report{}, err
	}
	for i, j := range found.Jobs {
		w := &work{job: j, number: i, bytes: sizeOf(j)}
		w.entry = Entry{Job: j.Path, Status: Stopped, Folder: filepath.ToSlash(b.folderOf(j)), Inputs: []member.Input{}, Findings: []Finding{}}
		b.jobs = append(b.jobs, w)
	}
	ours, others := b.Shard.share(b.jobs)
	for _, w := range ours {
		b.progress.Work += 2 * w.bytes
	}
	b.progress.Jobs = len(ours)
	b.tellProgress(func(*Progress) {})

	sideBySide(ctx, ours, b.AtOnce, func(w *work) { b.firstPass(w, func() error { return b.fit(ctx, w) }) })
	b.fitBeside(ctx, ours, others)
	b.index = newIndex(b.jobs)
	ids := make([]archive.Identity, len(b.jobs))
	for i, w := range b.jobs {
		ids[i] = w.fitted.Identity
	}
	b.ours = archive.NewIdentities(ids...)
	for _, w := range others {
		b.turns.pass(w.number)
	}
	sideBySide(ctx, ours, b.AtOnce, func(w *work) {
		began := time.Now()
		err := b.fits[w.number]
		if err == nil {
			err = guarded(func() error { return b.make(ctx, w) })
		}
		b.turns.pass(w.number)
		b.finish(ctx, w, err, w.spent+time.Since(began))
	})
	return b.report(ctx, ours, found)
}

// firstPass does what comes before the index, and notes how it went.
func (b *run) firstPass(w *work, do func() error) {
	began := time.Now()
	if b.fits[w.number] = guarded(do); b.fits[w.number] != nil {
		w.fitted = fitted{}
	}
	w.spent = time.Since(began)
	if w.ours {
		b.tellProgress(func(p *Progress) { p.Spent += w.bytes })
	}
}

// finish writes a job's line in the log.
func (b *run) finish(ctx context.Context, w *work, err error, took time.Duration) {
	w.sheet = nil
	if err != nil && ctx.Err() != nil {
		return // stopped, and no failure of its own
	}
	if err != nil {
		w.entry.Status, w.entry.Error = Failed, err.Error()
		if d, there := b.readDone(w.job); there && len(d.Outputs) > 0 {
			w.entry.Error += "; the map of an earlier run is still in " + w.entry.Folder
		}
	}
	w.entry.Seconds = math.Round(took.Seconds()*1000) / 1000
	b.log.add(w.entry)
	b.tellProgress(func(p *Progress) {
		p.Spent += w.bytes
		p.Done++
		p.Readings += w.entry.Counts.Rows
	})
}

func (b *run) tellProgress(change func(*Progress)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	change(&b.progress)
	if b.Progress != nil {
		b.Progress(b.progress)
	}
}

func (b *run) report(ctx context.Context, ours []*work, found Found) (Report, error) {
	r := Report{PassedOver: found.PassedOver, Log: b.Log, Stopped: ctx.Err() != nil}
	for _, w := range ours {
		r.Entries = append(r.Entries, w.entry)
	}
	return r, b.log.finish(r.Entries)
}
