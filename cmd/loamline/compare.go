package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/overlay"
	"loamline.example/cmd/loamline/internal/summary"
	"loamline.example/export"
	"loamline.example/export/geojson"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

func compareCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "lay two maps of the same lines over each other",
		ArgsUsage: "FIRST.geojson SECOND.geojson",
		Description: "Pairs the lines by place and name and compares: how far the second map's line lies from the " +
			"first's along the way, the difference in depth, and where they disagree beyond both 95 % bands. " +
			"Use it to check one locate against another, or a re-mark against the first map." +
			examples("loamline compare first.geojson second.geojson", "loamline compare first.geojson second.geojson --units us --csv table.csv",
				"loamline compare first.geojson second.geojson --page both.html --geojson both.geojson"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "csv", Usage: "`FILE` for the whole table, one row per station"},
			&cli.StringFlag{Name: "geojson", Usage: "`FILE` for both maps' lines and where they disagree, for a GIS"},
			&cli.StringFlag{Name: "page", Usage: "`FILE` (HTML) with both maps on one plan, and the words"},
			&cli.StringFlag{Name: "units", Usage: "what people are shown: metric or us", Value: string(geo.Metric)},
			&cli.BoolFlag{Name: "strict", Usage: "end with status 3 if the maps disagree beyond both bands, or in what they have"},
		},
		Action: func(c *cli.Context) error {
			u := geo.Units(c.String("units"))
			if c.NArg() != 2 {
				return usagef("compare needs two maps: FIRST.geojson SECOND.geojson")
			}
			if u != geo.Metric && u != geo.US {
				return usagef("--units %s: use metric or us", u)
			}
			files := comparisonFiles{table: c.String("csv"), geojson: c.String("geojson"), page: c.String("page")}
			return runCompare(c.Args().Get(0), c.Args().Get(1), files, u, c.Bool("strict"), std.out)
		},
	}
}

// comparisonFiles are what a comparison is written to; an empty name for none.
type comparisonFiles struct{ table, geojson, page string }

func (f comparisonFiles) outputs(a, b trace.Located, laid []compare.Overlay, u geo.Units) []export.Output {
	var out []export.Output
	if f.table != "" {
		beside := strings.TrimSuffix(f.table, filepath.Ext(f.table)) + "-cautions.txt"
		out = append(out, export.Output{Path: f.table, Write: func(w io.Writer) error { return overlayTable(w, laid) }},
			export.Output{Path: beside, Write: writes([]byte("These words belong to " + filepath.Base(f.table) + ": pass them on together.\n\n" + strings.Join(trace.Cautions(), "\n") + "\n"))})
	}
	if f.geojson != "" {
		out = append(out, export.Output{Path: f.geojson, Write: func(w io.Writer) error { return overlay.WriteGeoJSON(w, a, b, laid, u) }})
	}
	if f.page != "" {
		out = append(out, export.Output{Path: f.page, Write: func(w io.Writer) error { return overlay.WritePage(w, a, b, laid, u) }})
	}
	return out
}

func runCompare(first, second string, files comparisonFiles, u geo.Units, strict bool, out io.Writer) error {
	names := distinctNames([]string{first, second})
	a, err := readLocated(first, names[0])
	if err != nil {
		return err
	}
	b, err := readLocated(second, names[1])
	if err != nil {
		return err
	}
	laid := compare.OverlayPairs(a, b, compare.PairLines(a, b))
	disagree := false
	var told strings.Builder // a terminal gets it broken to its width
	defer func() { summary.Write(out, told.String()) }()
	fmt.Fprintf(&told, "%s (first) and %s (second); offsets are of the second, seen in the first's direction of travel\n", a.Name, b.Name)
	if warning := overlay.Warning(a, b); warning != "" {
		fmt.Fprintln(&told, warning)
	}
	for _, o := range laid {
		disagree = disagree || o.Disagrees()
		tellOverlay(&told, o, u)
	}
	outputs := files.outputs(a, b, laid, u)
	for _, o := range outputs {
		if samePlace(o.Path, first) || samePlace(o.Path, second) {
			return fmt.Errorf("%s: it would overwrite one of the maps that are compared: choose another name", o.Path)
		}
	}
	if err := export.WriteFiles(outputs); err != nil {
		return err
	}
	for i, o := range outputs {
		if i == 0 {
			fmt.Fprintln(&told)
		}
		fmt.Fprintf(&told, "wrote %s\n", o.Path)
	}
	fmt.Fprintf(&told, "\n%s\n", trace.ShortCaution)
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

func tellOverlay(w io.Writer, o compare.Overlay, u geo.Units) {
	name := o.Line
	if o.Other != "" && o.Other != o.Line {
		name += ", in the second map " + o.Other
	}
	fmt.Fprintf(w, "\n  %s: %s\n", name, strings.Join(overlay.Words(o, u), " "))
	for _, s := range o.Disagree {
		fmt.Fprintf(w, "    %s\n", overlay.StretchWords(s, u))
	}
}

// overlayTable writes every compared station; what is not known is empty.
func overlayTable(w io.Writer, overlays []compare.Overlay) error {
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
