package batch

import (
	"context"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// fitted is what the first pass makes of a job: all that other jobs, and the
// second pass, need of it. It is kept on the disk (record.go).
type fitted struct {
	Print    string // of inputs, settings and program; empty where it cannot be told
	Identity archive.Identity
	Origin   geo.LonLat // of the job's plane
	Places   []geo.XY   // its readings, thinned
	Lines    []archive.Line
	Rows     int
}

// fit is the first pass over a job: its lines, by its own readings alone.
func (b *run) fit(ctx context.Context, w *work) error {
	there, err := b.open(ctx, w)
	if err != nil || there {
		return err
	}
	src, err := b.read(ctx, w)
	if err != nil {
		return err
	}
	src.Nearby = func(_ context.Context, _ geo.Plane, places []geo.XY) ([]trace.Record, error) {
		w.fitted.Places = places
		return nil, nil
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return err
	}
	w.fitted.Origin, w.fitted.Rows = sheet.Plane.Origin(), sheet.Counts.Rows
	w.fitted.Lines = archive.LinesOf(sheet, "batch", w.job.Path)
	if w.ours {
		b.hold(w, sheet)
	}
	return b.writeFitted(w.job, &w.fitted)
}

// open finds out what a job is made from, and whether its first pass is at hand.
func (b *run) open(ctx context.Context, w *work) (there bool, err error) {
	if w.job.problem != nil {
		return false, w.job.problem
	}
	if w.load, err = b.Load(w.job); err != nil {
		return false, err
	}
	if err := b.keepInputs(w); err != nil {
		return false, err
	}
	prints, known, err := inputPrints(ctx, w.load)
	if err != nil {
		return false, err
	}
	w.prints, w.printsKnown = prints, known
	print := ""
	if known {
		print = fingerprint("fit", b.Program, b.Settings, w.job.Path, w.load.Name, strings.Join(prints, "\n"))
	}
	if b.readFitted(w.job, &w.fitted) && known && w.fitted.Print == print {
		return true, nil
	}
	w.fitted = fitted{Print: print}
	return false, nil
}

// read reads a job's inputs, which tell it.
func (b *run) read(ctx context.Context, w *work) (trace.Source, error) {
	src, err := intake.Load(ctx, w.load)
	if err != nil {
		return src, err
	}
	w.fitted.Identity = archive.IdentityOf(src.Job, src.Inputs)
	return src, unchanged(w.prints, w.printsKnown, src.Inputs)
}

// heldReadings is for how many readings of all jobs together the maps of the
// first pass stay in memory. One without a neighbour is what the second pass would
// make, and it need not be made twice.
const heldReadings = 200_000

func (b *run) hold(w *work, sheet *trace.Sheet) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.held+sheet.Counts.Rows <= heldReadings {
		b.held += sheet.Counts.Rows
		w.sheet = sheet
	}
}

// letGo hands a held map over.
func (b *run) letGo(w *work) *trace.Sheet {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := w.sheet
	if s != nil {
		b.held -= s.Counts.Rows
		w.sheet = nil
	}
	return s
}
