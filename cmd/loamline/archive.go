package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline/export"
	"loamline/export/archive"
	"loamline/geo"
	"loamline/trace"
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
	key := archive.JobKey(&trace.Sheet{Name: src.Name, Job: src.Job})
	return func(ctx context.Context, plane geo.Plane, places []geo.XY) ([]trace.Record, error) {
		return a.Near(ctx, archive.NearQuery{Plane: plane, Places: places, WithinM: neighborReachM, ExceptKey: key})
	}
}

func (a jobArchive) keep(ctx context.Context, s *trace.Sheet) error {
	if a.Archive == nil {
		return nil
	}
	return a.Put(ctx, s)
}

func (a jobArchive) close() {
	if a.Archive != nil {
		_ = a.Close() // everything kept is committed
	}
}

func archiveCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "archive",
		Usage:     "list the jobs that an archive keeps",
		ArgsUsage: "ARCHIVE",
		Description: "An archive is a .gpkg file or a PostGIS database (postgres://user@host/name). loamline map\n" +
			"--archive ARCHIVE takes the lines of earlier jobs in it as neighbours and keeps the job in it;\n" +
			"the same job again replaces itself." +
			examples("loamline archive city.gpkg", "loamline map readings.csv --archive city.gpkg"),
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return usagef("archive needs one archive: a .gpkg file or postgres://…")
			}
			return listArchive(c.Context, c.Args().First(), std.out)
		},
	}
}

func listArchive(ctx context.Context, where string, out io.Writer) error {
	// A list must not make the archive that a mistyped name asks for.
	if strings.HasSuffix(strings.ToLower(where), ".gpkg") {
		if _, err := os.Stat(where); err != nil {
			return openError(where, err)
		}
	}
	a, err := export.OpenArchive(ctx, where)
	if err != nil {
		return err
	}
	defer a.Close()
	jobs, err := a.Jobs(ctx)
	if err != nil {
		return err
	}
	for _, j := range jobs {
		fmt.Fprintf(out, "%-24s %-16s %s\n", j.Name, j.Ticket, j.Date)
	}
	fmt.Fprintf(out, "%s\n", plural(len(jobs), "job"))
	return nil
}
