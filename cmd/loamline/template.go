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
)

//go:embed template/job.toml
var jobTemplate string

// The files that template writes.
const (
	readingsTemplateName = "readings.csv"
	jobTemplateName      = "job.toml"
)

// templateColumns is every field of a readings table with what to write there,
// under its metric name and, where that differs, its name in US units.
var templateColumns = []struct{ metric, us, words string }{
	{"line", "", "name of the line believed to be under the receiver"},
	{"point", "", "number of the reading"},
	{"time", "", "with its zone: 2026-05-12T09:30:00-05:00"},
	{"lat", "", "latitude in decimal degrees, with its sign"},
	{"lon", "", "longitude in decimal degrees, with its sign"},
	{"elev_m", "elev_ft", "ground elevation"},
	{"fix", "", "GNSS quality as in NMEA 0183 GGA: 1 autonomous, 2 differential, 4 RTK fixed, 5 RTK float"},
	{"hdop", "", "horizontal dilution of precision"},
	{"h_acc_m", "h_acc_ft", "horizontal accuracy, one sigma per axis, as the positioning receiver states it"},
	{"depth_m", "depth_in", "from the ground to the centre of the line; empty where none was shown"},
	{"current_ma", "", "current in the line"},
	{"signal", "", "signal strength; signal_db in decibels"},
	{"signal_low", "", "signal of the bottom antenna"},
	{"signal_high", "", "signal of the top antenna"},
	{"lift_m", "lift_in", "how far the receiver was lifted off the ground: a check, never a point of the line"},
	{"null_offset_m", "null_offset_in", "null minus peak, positive to the right of the direction of travel"},
	{"phase", "", "current direction against the one expected: with or against"},
	{"freq_hz", "", "locating frequency"},
	{"hookup", "", "direct, clamp, induction or passive"},
	{"exposed", "", "yes where the line was exposed and measured"},
	{"note", "", "anything"},
}

func templateCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:  "template",
		Usage: "write a blank readings table and a job file with comments",
		Description: "Writes " + readingsTemplateName + " and " + jobTemplateName + ", to be filled in. Columns that are not read may be deleted.\n" +
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
	for _, c := range templateColumns {
		name := c.metric
		if u == geo.US && c.us != "" {
			name = c.us
		}
		names = append(names, name)
		fmt.Fprintf(&b, "# %-15s %s\n", name, c.words)
	}
	return b.String() + strings.Join(names, ",") + "\n"
}
