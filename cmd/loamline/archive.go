package main

import (
	"context"
	"fmt"
	"io"

	"loamline.example/cmd/loamline/internal/summary"
	"loamline.example/export"
	"loamline.example/export/archive"
	"loamline.example/geo"
	"loamline.example/trace"
)

// neighborReachM is how far from a job's readings earlier lines are asked for:
// beyond what any detector of bleed-over looks at.
const neighborReachM = 25.0

// jobArchive is the archive of a run, or none.
type jobArchive struct{ archive.Archive }

func openArchive(ctx context.Context, where string) (jobArchive, error) {
	if where == "" {
		return jobArchive{}, nil
	}
	a, err := export.OpenArchive(ctx, where)
	return jobArchive{a}, err
}

// nearby asks the archive for the lines of other jobs near a job, nil without
// an archive.
func (a jobArchive) nearby(src trace.Source) func(context.Context, geo.Plane, []geo.XY) ([]trace.Record, error) {
	if a.Archive == nil {
		return nil
	}
	self := archive.NewIdentities(archive.IdentityOf(src.Job, src.Inputs))
	return func(ctx context.Context, plane geo.Plane, places []geo.XY) ([]trace.Record, error) {
		return a.Near(ctx, archive.NearQuery{Plane: plane, Places: places, WithinM: neighborReachM, Except: self})
	}
}

// keep puts the job into the archive and tells what became of it.
func (a jobArchive) keep(ctx context.Context, s *trace.Sheet) (words string, err error) {
	if a.Archive == nil {
		return "", nil
	}
	kept, err := a.Put(ctx, s)
	if err != nil {
		return "", err
	}
	return kept.Words(), nil
}

func (a jobArchive) close() {
	if a.Archive != nil {
		_ = a.Close() // everything kept is committed
	}
}

// listArchive prints the jobs of an archive, one a line.
func listArchive(ctx context.Context, a archive.Archive, all bool, out io.Writer) error {
	jobs, err := a.Jobs(ctx)
	if err != nil {
		return err
	}
	there := 0
	for _, j := range jobs {
		state := ""
		switch {
		case !j.Removed:
			there++
		case !all:
			continue
		default:
			state = "  (removed)"
		}
		fmt.Fprintf(out, "%-32s %-16s %-10s version %d%s\n", j.Key, j.Ticket, j.Date, j.Version, state)
	}
	fmt.Fprintf(out, "%s\n", summary.Plural(there, "job"))
	return nil
}
