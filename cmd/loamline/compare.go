package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline/export"
	"loamline/export/geojson"
	"loamline/geo"
	"loamline/trace"
	"loamline/trace/locate"
)

func compareCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "lay two maps of the same lines over each other",
		ArgsUsage: "FIRST.geojson SECOND.geojson",
		Description: "Compares line by line, by name: how far the second map's line lies from the first's along\n" +
			"the way, the difference in depth, and where they disagree beyond both 95 % bands. It is how a\n" +
			"locate is checked by another, and a re-mark by the first map." +
			examples("loamline compare first.geojson second.geojson", "loamline compare first.geojson second.geojson --units us --csv table.csv"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "csv", Usage: "`FILE` for the whole table, one row a station"},
			&cli.StringFlag{Name: "units", Usage: "what people are shown: metric or us", Value: string(geo.Metric)},
			&cli.BoolFlag{Name: "strict", Usage: "end with status 3 if the maps disagree beyond both bands"},
		},
		Action: func(c *cli.Context) error {
			u := geo.Units(c.String("units"))
			if c.NArg() != 2 {
				return usagef("compare needs two maps: FIRST.geojson SECOND.geojson")
			}
			if u != geo.Metric && u != geo.US {
				return usagef("--units %s: use metric or us", u)
			}
			return runCompare(c.Args().Get(0), c.Args().Get(1), c.String("csv"), u, c.Bool("strict"), std.out)
		},
	}
}

func runCompare(first, second, table string, u geo.Units, strict bool, out io.Writer) error {
	names := distinctNames([]string{first, second})
	a, err := readLocated(first, names[0])
	if err != nil {
		return err
	}
	b, err := readLocated(second, names[1])
	if err != nil {
		return err
	}
	overlays := locate.OverlayLocates(a, b)
	disagree := false
	fmt.Fprintf(out, "%s (first) and %s (second); offsets are of the second, seen in the first's direction of travel\n", a.Name, b.Name)
	for _, o := range overlays {
		disagree = disagree || len(o.Disagree) > 0 || o.FirstOnly || o.OtherOnly
		tellOverlay(out, o, u)
	}
	if table != "" {
		beside := strings.TrimSuffix(table, filepath.Ext(table)) + "-cautions.txt"
		err := export.WriteFiles([]export.Output{
			{Path: table, Write: func(w io.Writer) error { return overlayTable(w, overlays) }},
			{Path: beside, Write: writes([]byte("These words belong to " + filepath.Base(table) + ": pass them on together.\n\n" +
				strings.Join(trace.Cautions(), "\n") + "\n"))},
		})
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "wrote %s\nwrote %s\n", table, beside)
	}
	fmt.Fprintf(out, "\n%s\n", trace.ShortCaution)
	if strict && disagree {
		return errNeedsEyes
	}
	return nil
}

func readLocated(path, name string) (trace.Located, error) {
	f, err := os.Open(path)
	if err != nil {
		return trace.Located{}, openError(path, err)
	}
	defer f.Close()
	return geojson.ReadLocated(f, name)
}

func tellOverlay(w io.Writer, o locate.Overlay, u geo.Units) {
	fmt.Fprintf(w, "\n  %s: ", o.Line)
	switch {
	case o.FirstOnly:
		fmt.Fprintln(w, "only in the first map")
		return
	case o.OtherOnly:
		fmt.Fprintln(w, "only in the second map")
		return
	case len(o.Places) == 0:
		fmt.Fprintln(w, "the two locates do not run side by side anywhere")
		return
	}
	mean := o.MeanOffsetM()
	fmt.Fprintf(w, "compared at %d stations; on average %s to the %s\n", len(o.Places), u.Fine(math.Abs(mean)), sideWord(mean))
	for _, d := range o.Disagree {
		what := fmt.Sprintf("lies up to %s to the %s", u.Fine(math.Abs(d.LargestM)), sideWord(d.LargestM))
		if d.Depth {
			word := "deeper"
			if d.LargestM < 0 {
				word = "shallower"
			}
			what = fmt.Sprintf("reads up to %s %s", u.Fine(math.Abs(d.LargestM)), word)
		}
		fmt.Fprintf(w, "    %s to %s: %s, where both bands together explain %s\n", u.Long(d.FromM), u.Long(d.ToM), what, u.Fine(d.AllowedM))
	}
	if len(o.Disagree) == 0 {
		fmt.Fprintln(w, "    no difference beyond both bands; both maps could still be wrong in the same way")
	}
}

func sideWord(offsetM float64) string {
	if offsetM < 0 {
		return string(trace.Left)
	}
	return string(trace.Right)
}

// overlayTable writes every compared station; what is not known is empty.
func overlayTable(w io.Writer, overlays []locate.Overlay) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"line", "station_m", "offset_m", "offset_allowed_m", "depth_difference_m", "depth_allowed_m"})
	number := func(v float64) string {
		if !trace.Known(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', 3, 64)
	}
	for _, o := range overlays {
		for _, p := range o.Places {
			_ = c.Write([]string{o.Line, number(p.StationM), number(p.OffsetM), number(p.AllowedM), number(p.DepthDifferenceM), number(p.DepthAllowedM)})
		}
	}
	c.Flush()
	return c.Error()
}
