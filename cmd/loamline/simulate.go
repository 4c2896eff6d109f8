package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"loamline.example/export"
	"loamline.example/trace/tracetest/measure"
)

// simulateCommand makes practice traces with their truth beside them.
func simulateCommand() *cli.Command {
	return &cli.Command{
		Name:  "simulate",
		Usage: "make practice readings over lines whose truth is known",
		Description: "Buries lines, walks a locator over them and writes what it would have handed in: the " +
			"readings, job.toml, reference.geojson where records exist, and truth.geojson beside them. " +
			"The same family and seed give the same bytes." +
			examples("loamline simulate --list", "loamline simulate --family bleed-visiting --seed 3 --out practice"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "world", Value: string(measure.FirstWorld), Usage: "which simulator: `first` or second; families differ"},
			&cli.StringFlag{Name: "family", Usage: "kind of job; see --list"},
			&cli.Uint64Flag{Name: "seed", Value: 1, Usage: "number of the job within its family"},
			&cli.StringFlag{Name: "out", Value: ".", Usage: "folder to write into; made where missing"},
			&cli.BoolFlag{Name: "list", Usage: "list the families and stop"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("simulate takes no argument %q: name the family with --family", c.Args().First())
			}
			world, err := worldNamed(c.String("world"))
			if err != nil {
				return err
			}
			if c.Bool("list") {
				for _, f := range world.Families() {
					fmt.Fprintf(c.App.Writer, "%-20s %s\n", f.Name, f.Shows)
				}
				return nil
			}
			if c.String("family") == "" {
				return usagef("no family named: add --family NAME, or --list to see them")
			}
			return simulate(c, world, c.String("family"), c.Uint64("seed"), c.String("out"))
		},
	}
}

// worldNamed finds a simulator.
func worldNamed(name string) (measure.World, error) {
	w := measure.World(name)
	if !slices.Contains(measure.Worlds, w) {
		return w, usagef("--world %s: no such world; there are first and second", name)
	}
	return w, nil
}

// simulate writes the files of one job, all or none.
func simulate(c *cli.Context, world measure.World, family string, seed uint64, dir string) error {
	job, err := world.Make(family, seed)
	if err != nil {
		return usagef("%w; simulate --world %s --list shows them", err, world)
	}
	files, err := job.Files(job.Layout)
	if err != nil {
		return err
	}
	var outs []export.Output
	for _, f := range files {
		outs = append(outs, export.Output{Path: filepath.Join(dir, f.Name), Write: writes(f.Bytes)})
	}
	if err := export.WriteFiles(outs); err != nil {
		return err
	}
	for _, o := range outs {
		fmt.Fprintln(c.App.Writer, o.Path)
	}
	return nil
}

// writes is a writer of what is already made.
func writes(b []byte) func(io.Writer) error {
	return func(w io.Writer) error { _, err := w.Write(b); return err }
}
