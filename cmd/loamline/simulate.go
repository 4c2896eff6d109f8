package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"loamline/trace/tracetest"
)

// simulateCommand makes practice traces with their truth beside them.
func simulateCommand() *cli.Command {
	return &cli.Command{
		Name:  "simulate",
		Usage: "make practice readings over lines whose truth is known",
		Description: "Buries lines, walks a locator over them and writes what it would have handed in: the\n" +
			"readings, job.toml, reference.geojson where records exist, and truth.geojson beside them.\n" +
			"The same family and seed give the same bytes.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "family", Usage: "kind of job; see --list"},
			&cli.Uint64Flag{Name: "seed", Value: 1, Usage: "number of the job within its family"},
			&cli.StringFlag{Name: "out", Value: ".", Usage: "folder to write into; made where missing"},
			&cli.BoolFlag{Name: "list", Usage: "list the families and stop"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("simulate takes no argument %q: name the family with --family", c.Args().First())
			}
			if c.Bool("list") {
				for _, f := range tracetest.Families() {
					fmt.Fprintf(c.App.Writer, "%-20s %s\n", f.Name, f.Shows)
				}
				return nil
			}
			if c.String("family") == "" {
				return usagef("no family named: add --family NAME, or --list to see them")
			}
			return simulate(c, c.String("family"), c.Uint64("seed"), c.String("out"))
		},
	}
}

// simulate writes the files of one job, and takes back what it wrote where one
// of them fails.
func simulate(c *cli.Context, family string, seed uint64, dir string) error {
	job, err := tracetest.Make(family, seed)
	if err != nil {
		return usagef("%w; --list shows them", err)
	}
	files, err := job.Files(job.Layout)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for i, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Bytes, 0o666); err != nil {
			for _, done := range files[:i+1] {
				os.Remove(filepath.Join(dir, done.Name))
			}
			return err
		}
	}
	for _, f := range files {
		fmt.Fprintln(c.App.Writer, filepath.Join(dir, f.Name))
	}
	return nil
}
