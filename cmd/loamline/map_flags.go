package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/export"
	"loamline.example/export/page"
	"loamline.example/export/pdf"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// under puts flags under one heading of the help.
func under(heading string, flags []cli.Flag) []cli.Flag {
	for _, f := range flags {
		switch f := f.(type) {
		case *cli.StringFlag:
			f.Category = heading
		case *cli.StringSliceFlag:
			f.Category = heading
		case *cli.BoolFlag:
			f.Category = heading
		case *cli.Float64Flag:
			f.Category = heading
		case *cli.IntFlag:
			f.Category = heading
		}
	}
	return flags
}

// jobFlags are the settings that matter for one run.
func jobFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "ticket", Usage: "the request's `NUMBER`"},
		&cli.StringFlag{Name: "job-id", Usage: "`NAME` that the job goes by in an archive: the same name again is the same job, whatever its files", DefaultText: "told by the readings' fingerprints"},
		&cli.StringFlag{Name: "date", Usage: "`DATE` of the locate, YYYY-MM-DD"},
		&cli.StringFlag{Name: "units", Usage: "`UNITS` that people are shown: metric or us"},
		&cli.StringFlag{Name: "language", Usage: "`LANGUAGE` of the crew's sheet, page and KML: en, es, or en+es for both", DefaultText: "en"},
		&cli.StringFlag{Name: "crs", Usage: "`CODE` of the positions' reference system, such as EPSG:4326"},
		&cli.StringFlag{Name: "datum", Usage: "`NAME` of the datum that the base station or correction network works in, such as NAD83(2011)"},
		&cli.StringFlag{Name: "output-crs", Usage: "`CODE` of the system in which GeoPackage, PostGIS, tables, drawings and the sheet's grid are written", DefaultText: "WGS 84"},
		&cli.Float64Flag{Name: "epoch", Usage: "decimal `YEAR` of the positions", DefaultText: "the date, else the readings' times"},
		&cli.Float64Flag{Name: "gnss-offset", Usage: "`SECONDS` by which the GNSS log's clock is ahead of the readings'"},
		&cli.StringFlag{Name: "antenna-gap", Usage: "`LENGTH` between bottom and top antenna, such as \"0.40 m\""},
		&cli.StringFlag{Name: "half-width", Usage: "tolerance zone's half-width as a `LENGTH`, such as \"18 in\""},
		&cli.StringFlag{Name: "measured-from", Usage: "edge or centerline"},
		&cli.StringFlag{Name: "rule", Usage: "the law or practice behind the tolerance zone, printed on the map"},
	}
}

// applyJobFlags lays the flags that were given over the job's settings.
func applyJobFlags(c *cli.Context, j *trace.Job) error {
	for name, to := range map[string]*string{"job-id": &j.ID, "ticket": &j.Ticket, "date": &j.Date, "language": &j.Language, "crs": &j.CRS, "output-crs": &j.OutputCRS, "datum": &j.Datum,
		"sheets": &j.Sheets, "page-url": &j.PageURL, "rule": &j.Tolerance.Rule, "measured-from": &j.Tolerance.MeasuredFrom} {
		if c.IsSet(name) {
			*to = c.String(name)
		}
	}
	if c.IsSet("units") {
		j.Units = geo.Units(c.String("units"))
	}
	if c.IsSet("epoch") {
		j.Epoch = c.Float64("epoch")
	}
	if c.IsSet("gnss-offset") {
		j.GNSSOffsetS = c.Float64("gnss-offset")
	}
	for _, l := range []struct {
		name string
		to   *float64
	}{{"antenna-gap", &j.AntennaGap}, {"half-width", &j.Tolerance.HalfWidthM}} {
		if !c.IsSet(l.name) {
			continue
		}
		m, err := geo.ParseLength(c.String(l.name))
		if err != nil {
			return usagef("--%s: %w", l.name, err)
		}
		*l.to = m
	}
	applyUnderlayFlags(c, j)
	if err := setting.Check(*j); err != nil {
		return usageError{asGiven(c, err)}
	}
	return nil
}

// settingFlags are the flags that give settings of the job file, by its keys.
var settingFlags = map[string]string{"job_id": "job-id", "ticket": "ticket", "date": "date", "units": "units", "language": "language", "crs": "crs", "output.crs": "output-crs", "datum": "datum",
	"epoch": "epoch", "gnss_offset_s": "gnss-offset", "antenna_gap_m": "antenna-gap", "output.sheets": "sheets", "output.page_url": "page-url",
	"tolerance.half_width": "half-width", "tolerance.rule": "rule", "tolerance.measured_from": "measured-from"}

// asGiven names the flag where what is wrong is a setting that a flag gave.
func asGiven(c *cli.Context, err error) error {
	var p *trace.Problem
	if !errors.As(err, &p) || p.File != "" {
		return err
	}
	if flag := settingFlags[p.Field]; flag != "" && c.IsSet(flag) {
		p.Place = "--" + flag
	}
	return err
}

// formatHelp lists the further outputs with what each is for.
func formatHelp() string {
	var words []string
	for _, n := range export.FormatNames() {
		words = append(words, fmt.Sprintf("%s (%s)", n, export.FormatWords(n)))
	}
	return strings.Join(words, ", ")
}

// formatFlags are the choices that single formats leave open.
func formatFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "sheets", Usage: "`WHICH` of the printed sheets: crew (the sheet for the glove box and the points to stake out), full (plan and profile) or both", DefaultText: "both"},
		&cli.StringFlag{Name: "page-url", Usage: "`ADDRESS` at which the page will be found, printed as a code on the crew sheet"},
		&cli.StringFlag{Name: "paper", Usage: "`SIZE` of the printed sheet: A4, A3, Letter or Tabloid", DefaultText: "by the units, the larger where few sheets do"},
		&cli.Float64Flag{Name: "scale", Usage: "`DENOMINATOR` of the printed sheet's scale, such as 200 for 1:200", DefaultText: "a round one that fits"},
		&cli.StringFlag{Name: "gpkg-crs", Usage: "`CODE` of the GeoPackage's reference system alone", DefaultText: "that of --output-crs"},
		&cli.StringFlag{Name: "gpx-every", Usage: "`LENGTH` between waypoints", DefaultText: "5 m, or 25 ft"},
		&cli.StringFlag{Name: "tiles", Usage: "`ADDRESS` of a background map for the page, https://host/{z}/{x}/{y}.png; none by default, and fetched by the reader's browser"},
		&cli.StringFlag{Name: "tiles-credit", Usage: "`WORDS` that its owner wants on the page"},
	}
}

// leastGPXEveryM keeps a slip of the unit from making millions of waypoints.
const leastGPXEveryM = 0.10

func formatOptions(c *cli.Context) (export.JobOptions, error) {
	var opt export.JobOptions
	var err error
	if opt.PDF.Paper, err = pdf.ParsePaper(c.String("paper")); err != nil {
		return opt, usagef("--paper: %w", err)
	}
	if opt.PDF.Scale = c.Float64("scale"); !(opt.PDF.Scale >= 0) || math.IsInf(opt.PDF.Scale, 0) {
		return opt, usagef("--scale %g: give the denominator, such as 200 for 1:200", opt.PDF.Scale)
	}
	if c.IsSet("gpkg-crs") {
		if _, err := geo.LookupOutputCRS(c.String("gpkg-crs")); err != nil {
			return opt, usagef("--gpkg-crs: %w", err)
		}
		if opt.GeoPackage.Frame, err = geo.NewFrame(c.String("gpkg-crs"), "", 0); err != nil {
			return opt, usagef("--gpkg-crs: %w", err)
		}
	}
	if c.IsSet("gpx-every") {
		if opt.GPXEveryM, err = geo.ParseLength(c.String("gpx-every")); err != nil {
			return opt, usagef("--gpx-every: %w", err)
		}
		if !(opt.GPXEveryM >= leastGPXEveryM) {
			return opt, usagef("--gpx-every %s: at least 10 cm", c.String("gpx-every"))
		}
	}
	opt.Page.Tiles = page.TileSource{URL: c.String("tiles"), Attribution: c.String("tiles-credit")}
	if _, err = opt.Page.Tiles.Check(); err != nil {
		return opt, usagef("--tiles: %w", err)
	}
	return opt, nil
}
