package batch

import (
	"context"
	"strings"

	"loamline/export/archive"
	"loamline/geo"
	"loamline/trace"
	"loamline/trace/intake"
	"loamline/trace/locate"
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
	if w.job.problem != nil {
		return w.job.problem
	}
	var err error
	if w.load, err = b.Load(w.job); err != nil {
		return err
	}
	if err := b.keepInputs(w); err != nil {
		return err
	}
	prints, known, err := inputPrints(ctx, w.load)
	if err != nil {
		return err
	}
	w.prints, w.printsKnown = prints, known
	print := ""
	if known {
		print = fingerprint("fit", b.Program, b.Settings, w.job.Path, w.load.Name, strings.Join(prints, "\n"))
	}
	if b.readFitted(w.job, &w.fitted) && known && w.fitted.Print == print {
		return nil
	}
	src, err := intake.Load(ctx, w.load)
	if err != nil {
		return err
	}
	if err := unchanged(prints, known, src.Inputs); err != nil {
		return err
	}
	w.fitted = fitted{Print: print, Identity: archive.IdentityOf(src.Job, src.Inputs)}
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
	b.hold(w, sheet)
	return b.writeFitted(w.job, &w.fitted)
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
