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

// fitted is all that other jobs, and the making of its map, need of a job. It is
// kept on the disk (record.go).
type fitted struct {
	Print    string // of inputs, settings and program; empty where it cannot be told
	Identity archive.Identity
	Origin   geo.LonLat     // of the job's plane
	Places   []geo.XY       // its readings, thinned
	Fitted   bool           // the lines are known
	Lines    []archive.Line // by its own readings alone
}

// fit finds a job's lines, by its own readings alone, for the jobs beside it.
func (b *run) fit(ctx context.Context, w *work) error {
	src, err := b.read(ctx, w)
	if err != nil {
		return err
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		return err
	}
	w.fitted.Fitted, w.fitted.Lines = true, archive.LinesOf(sheet, "batch", w.job.Path)
	return b.writeFitted(w.job, &w.fitted)
}

// open finds out what a job is made from, and whether where it lies is at hand.
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
