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
	Work, Spent int64 // in bytes of readings, those of a job that is fitted first twice
}

// Report is what became of a batch.
type Report struct {
	Entries    []Entry // in the order of the jobs
	PassedOver []string
	Log        string
	Stopped    bool
}

// work is a job on its way.
type work struct {
	job         Job
	number      int
	ours        bool // made here, and not by another program
	bytes       int64
	load        intake.LoadOptions
	prints      []string
	printsKnown bool
	fitted      fitted
	beside      bool // its lines may be neighbours of a job that is made here
	entry       Entry
	spent       time.Duration
}

// run is a batch under way.
type run struct {
	Options
	jobs    []*work
	failed  []error // before the map of each could be begun
	index   *index
	ours    archive.Identities
	turns   *turns
	log     *log
	archive sync.Mutex // an archive serves one at a time

	mu       sync.Mutex
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
	b := &run{Options: opt, turns: newTurns(), failed: make([]error, len(found.Jobs))}
	if b.log, err = openLog(opt.Log); err != nil {
		return Report{}, err
	}
	for i, j := range found.Jobs {
		b.jobs = append(b.jobs, &work{job: j, number: i, bytes: sizeOf(j), entry: b.newEntry(j)})
	}
	ours, others := b.Shard.share(b.jobs)
	b.tellProgress(func(p *Progress) {
		p.Jobs = len(ours)
		for _, w := range ours {
			p.Work += w.bytes
		}
	})

	b.prepare(ctx, b.jobs, func(w *work) error { return b.look(ctx, w) })
	b.markBeside()
	b.fitFirst(ctx)
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
		err := b.failed[w.number]
		if err == nil {
			err = guarded(func() error { return b.make(ctx, w) })
		}
		b.turns.pass(w.number)
		w.spent += time.Since(began)
		b.enter(ctx, w, err)
		b.tellProgress(func(p *Progress) {
			p.Spent += w.bytes
			if w.entry.Status != Stopped {
				p.Done++
				p.Readings += w.entry.Counts.Rows
			}
		})
	})
	return b.report(ctx, ours, found)
}

func (b *run) newEntry(j Job) Entry {
	return Entry{Job: j.Path, Status: Stopped, Folder: filepath.ToSlash(b.folderOf(j)), Inputs: []member.Input{}, Findings: []Finding{}}
}

// prepare does with jobs what comes before the making of maps, and notes how it went.
func (b *run) prepare(ctx context.Context, jobs []*work, do func(*work) error) {
	sideBySide(ctx, jobs, b.AtOnce, func(w *work) {
		if b.failed[w.number] != nil {
			return
		}
		began := time.Now()
		if b.failed[w.number] = guarded(func() error { return do(w) }); b.failed[w.number] != nil {
			w.fitted = fitted{}
		}
		w.spent += time.Since(began)
	})
}

// fitFirst finds the lines of the jobs that may be another's neighbours.
func (b *run) fitFirst(ctx context.Context) {
	var first []*work
	for _, w := range b.jobs {
		if w.beside && !w.fitted.Fitted {
			first = append(first, w)
		}
	}
	b.tellProgress(func(p *Progress) {
		for _, w := range first {
			p.Work += w.bytes
		}
	})
	b.prepare(ctx, first, func(w *work) error {
		err := b.fit(ctx, w)
		b.tellProgress(func(p *Progress) { p.Spent += w.bytes })
		return err
	})
}

// enter writes a job's line in the log.
func (b *run) enter(ctx context.Context, w *work, err error) {
	if err != nil && ctx.Err() != nil {
		return // stopped, and no failure of its own
	}
	if err != nil {
		w.entry.Status, w.entry.Error = Failed, err.Error()
		if d, there := b.readDone(w.job); there && len(d.Outputs) > 0 {
			w.entry.Error += "; the map of an earlier run is still in " + w.entry.Folder
		}
	}
	w.entry.Seconds = math.Round(w.spent.Seconds()*1000) / 1000
	b.log.add(w.entry)
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
