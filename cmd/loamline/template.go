package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/export"
	"loamline.example/geo"
	"loamline.example/trace/intake"
)

//go:embed template/job.toml
var jobTemplate string

// The files that template writes.
const (
	readingsTemplateName = "readings.csv"
	jobTemplateName      = "job.toml"
)

// templateColumns is every field of a readings table, what tells readings apart
// first; what only says otherwise what another field says is left out.
func templateColumns() []intake.Field {
	keys, others := []intake.Field{}, []intake.Field{}
	for _, f := range intake.Fields() {
		switch {
		case f.Words == "":
		case f.Key:
			keys = append(keys, f)
		default:
			others = append(others, f)
		}
	}
	return append(keys, others...)
}

func templateCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:  "template",
		Usage: "write a blank readings table and a job file with comments",
		Description: "Writes " + readingsTemplateName + " and " + jobTemplateName + ", to be filled in. Columns that are not read may be deleted. " +
			"Files that are there already stay as they are." +
			examples("loamline template --out street", "loamline template --out street --units us"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Value: ".", Usage: "`FOLDER` to write into; made where missing"},
			&cli.StringFlag{Name: "units", Value: string(geo.Metric), Usage: "of the table's columns: metric or us"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("template takes no argument %q: name the folder with --out", c.Args().First())
			}
			u := geo.Units(c.String("units"))
			if u != geo.Metric && u != geo.US {
				return usagef("--units %s: use metric or us", u)
			}
			return writeTemplates(c.String("out"), u, std.out)
		},
	}
}

// writeTemplates never takes the place of a file: it may be a filled-in one.
func writeTemplates(dir string, u geo.Units, out io.Writer) error {
	job := strings.Replace(jobTemplate, `units = "metric"`, fmt.Sprintf("units = %q", u), 1)
	files := []export.Output{
		{Path: filepath.Join(dir, readingsTemplateName), Write: writes([]byte(readingsTemplate(u)))},
		{Path: filepath.Join(dir, jobTemplateName), Write: writes([]byte(job))},
	}
	for _, f := range files {
		if _, err := os.Lstat(f.Path); err == nil {
			return fmt.Errorf("%s: there is such a file already: choose another folder with --out; nothing was written", f.Path)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return openError(f.Path, err)
		}
	}
	if err := export.WriteFiles(files); err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintf(out, "wrote %s\n", f.Path)
	}
	return nil
}

// readingsTemplate is a table without rows; its comments say what goes into
// each column.
func readingsTemplate(u geo.Units) string {
	var b strings.Builder
	b.WriteString("# One row is one reading. Lines that start with # are skipped; delete columns that are not read.\n" +
		"# Positions may also be east_m and north_m (or _ft, _usft) of the crs in the job file.\n")
	var names []string
	for _, f := range templateColumns() {
		unit := ""
		if len(f.Units) > 0 {
			unit = f.Units[0]
		}
		if u == geo.US && f.US != "" {
			unit = f.US
		}
		names = append(names, f.In(unit))
		fmt.Fprintf(&b, "# %-15s %s\n", f.In(unit), f.Words)
	}
	return b.String() + strings.Join(names, ",") + "\n"
}
