package batch

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loamline.example/export"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// make makes a job's map with the neighbours, or nothing where that is there.
func (b *run) make(ctx context.Context, w *work) error {
	records, err := b.neighbors(ctx, w)
	if err != nil {
		return err
	}
	print := ""
	if w.fitted.Print != "" {
		print = fingerprint("map", w.fitted.Print, recordsPrint(records))
	}
	before, there := b.readDone(w.job)
	if there && b.through(w.job, before, print) {
		folder := w.entry.Folder
		w.entry = before.Entry
		w.entry.Status, w.entry.Folder, w.entry.Fingerprint = Unchanged, folder, print
		return b.removeFormer(w.job, before)
	}
	sheet, err := b.build(ctx, w, records)
	if err != nil {
		return err
	}
	if c := b.Formats.GeoPackage.Frame.CRS; c.Code != 0 && !c.Holds(sheet.Plane.Origin()) {
		return locate.OutsideProblem("--gpkg-crs", c, sheet.Plane.Origin())
	}
	w.entry.Neighbors = len(records)
	w.entry.tell(sheet, b.NeedsEyes(sheet))
	if err := b.keep(ctx, w, sheet); err != nil {
		return err
	}
	if err := b.write(ctx, w, sheet, before, print); err != nil {
		if w.entry.Archive != "" {
			return fmt.Errorf("archived, but the map is not written: %w", err)
		}
		return err
	}
	w.entry.Status, w.entry.Fingerprint = Made, print
	return nil
}

func (b *run) build(ctx context.Context, w *work, records []trace.Record) (*trace.Sheet, error) {
	src, err := intake.Load(ctx, w.load)
	if err != nil {
		return nil, err
	}
	if err := unchanged(w.prints, w.printsKnown, src.Inputs); err != nil {
		return nil, err
	}
	src.Nearby = func(context.Context, geo.Plane, []geo.XY) ([]trace.Record, error) { return records, nil }
	return locate.Build(ctx, src)
}

// keep puts a map into the archive, after those of all jobs before it: what a job
// goes by there depends on what was there first. It comes before the outputs, so
// that a job whose outputs are there is in the archive too.
func (b *run) keep(ctx context.Context, w *work, sheet *trace.Sheet) error {
	if b.Archive == nil {
		return nil
	}
	b.turns.wait(w.number)
	if err := ctx.Err(); err != nil {
		return err
	}
	b.archive.Lock()
	defer b.archive.Unlock()
	kept, err := b.Archive.Put(ctx, sheet)
	b.turns.pass(w.number)
	if err != nil {
		return err
	}
	w.entry.Archive = kept.Words()
	return nil
}

// write writes a job's outputs, all or none, and the record of them behind the
// last. Until that is there, the earlier record says nothing of the files any more.
func (b *run) write(ctx context.Context, w *work, sheet *trace.Sheet, before done, print string) error {
	outs := export.JobOutputs(sheet, b.folderOf(w.job), b.Write, b.Formats)
	now := done{Print: print, Former: append(slices.Clone(before.Former), before.Outputs...)}
	for _, o := range outs {
		now.Outputs = append(now.Outputs, filepath.Base(o.Path))
	}
	now.Former = slices.DeleteFunc(now.Former, func(name string) bool { return slices.Contains(now.Outputs, name) })
	slices.Sort(now.Former)
	now.Former = slices.Compact(now.Former)
	now.Entry = w.entry
	now.Entry.Status, now.Entry.Archive = Made, ""
	if len(before.Outputs) > 0 || len(before.Former) > 0 {
		before.Print = ""
		if err := export.WriteFilesContext(ctx, []export.Output{b.doneOutput(w.job, before)}); err != nil {
			return err
		}
	}
	if err := export.WriteFilesContext(ctx, append(outs, b.doneOutput(w.job, now))); err != nil {
		return err
	}
	return b.removeFormer(w.job, now)
}

// keepInputs refuses a job that reads from the folder of outputs: what it reads
// would be written by another job, or by itself.
func (b *run) keepInputs(w *work) error {
	out := realPath(b.Out) + string(filepath.Separator)
	for _, p := range b.Paths(w.job, w.load.Job) {
		if p == "" {
			continue
		}
		if strings.HasPrefix(realPath(p), out) {
			return fmt.Errorf("%s: this input lies in the folder of outputs: move it, or choose another folder with --out", p)
		}
	}
	return nil
}

// sizeOf is how much there is to read of a job.
func sizeOf(j Job) int64 {
	var sum int64 = 1
	for _, t := range j.Tables {
		if info, err := os.Stat(t); err == nil {
			sum += info.Size()
		}
	}
	return sum
}
