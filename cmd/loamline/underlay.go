package main

import (
	"github.com/urfave/cli/v2"

	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// underlayFlags name the site plan of one job.
func underlayFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "underlay", Usage: "`PICTURE` of a site plan: PNG, JPEG or PDF with a world file beside it (plan.png and plan.pgw), GeoTIFF, or geospatial PDF. Page and sheets draw it pale beneath the lines; no line depends on it"},
		&cli.StringFlag{Name: "underlay-crs", Usage: "`CODE` of the site plan's reference system, such as EPSG:26918", DefaultText: "what its GeoTIFF keys or its geospatial viewport say"},
		&cli.IntFlag{Name: "underlay-page", Usage: "`NUMBER` of the page, of a PDF with several", DefaultText: "the only one that says where it lies"},
		&cli.Float64Flag{Name: "underlay-dpi", Usage: "dots per inch `N` for which a PDF's world file is made; 72 for the page's points", DefaultText: "none"},
	}
}

// applyUnderlayFlags lays the flags over what the job file says. Another picture than
// the job file's is in no system that is stated there.
func applyUnderlayFlags(c *cli.Context, j *trace.Job) {
	if c.IsSet("underlay") {
		j.Underlay = trace.UnderlaySetup{File: c.String("underlay"), Opacity: j.Underlay.Opacity}
	}
	if c.IsSet("underlay-crs") {
		j.Underlay.CRS = c.String("underlay-crs")
	}
	if c.IsSet("underlay-page") {
		j.Underlay.Page = c.Int("underlay-page")
	}
	if c.IsSet("underlay-dpi") {
		j.Underlay.DPI = c.Float64("underlay-dpi")
	}
}

// underlayPath is where the site plan lies, or empty for none.
func underlayPath(opt mapOptions, job trace.Job) string {
	if opt.underlay != "" || job.Underlay.File == "" {
		return opt.underlay
	}
	return besideJobFile(job.Underlay.File, job)
}

// underlayFile is the site plan with what lies beside it, or nil.
func underlayFile(opt mapOptions, job trace.Job) *intake.File {
	path := underlayPath(opt, job)
	if path == "" {
		return nil
	}
	f := layerOnDisk(path)
	return &f
}
