package export

import (
	"cmp"
	"context"
	"io"
	"path/filepath"
	"slices"

	"loamline.example/export/dxf"
	"loamline.example/export/geojson"
	"loamline.example/export/gpkg"
	"loamline.example/export/gpx"
	"loamline.example/export/kml"
	"loamline.example/export/landxml"
	"loamline.example/export/page"
	"loamline.example/export/pdf"
	"loamline.example/export/place"
	"loamline.example/export/shp"
	"loamline.example/export/table"
	"loamline.example/trace"
)

// JobOptions choose what the formats of a job leave open; the zero value is the
// ordinary job.
type JobOptions struct {
	PDF        pdf.Options
	GeoPackage gpkg.Options
	GPXEveryM  float64 // between waypoints on a straight; 0 takes the format's own
	Page       page.Options

	areas *place.Areas // of the formats that are always written
}

// format is one kind of output of a job.
type format struct {
	name    string // as --write takes it
	shows   string // in a few words, for the help
	always  bool   // written with every map
	outputs func(s *trace.Sheet, base string, opt JobOptions) []Output
}

// formats is every output that a job can be written as, in the order in which
// they are listed.
var formats = []format{
	{"geojson", "map for a GIS, WGS 84", true, sharing(".geojson", geojson.WriteSharing)},
	{"kml", "map for a globe viewer", true, sharing(".kml", kml.WriteSharing)},
	{"kmz", "the map for a globe viewer in one file with its icons", false, streamed(".kmz", kml.WriteKMZ)},
	{"gpkg", "GeoPackage with styles, for a GIS", false, geoPackage},
	{"pdf", "printed plan and profile", false, printed},
	{"html", "one page for phone and desk, needs no network", false, onePage},
	{"csv", "tables of the lines by station, of the points to stake out with their ties, of every reading, and of how far records lie off, with the cautions beside them", false, tables},
	{"dxf", "drawing for CAD, layers by utility and kind", false, streamed(".dxf", dxf.Write)},
	{"landxml", "LandXML 1.2 for civil design: plan features and points", false, streamed("-landxml.xml", landxml.Write)},
	{"shp", "Shapefiles in a zip, for a desk GIS", false, streamed("-shp.zip", shp.Write)},
	{"gpx", "waypoints for re-marking", false, waypoints},
}

// streamed is a format of a single file without options.
func streamed(ending string, write func(io.Writer, *trace.Sheet) error) func(*trace.Sheet, string, JobOptions) []Output {
	return func(s *trace.Sheet, base string, _ JobOptions) []Output {
		return []Output{{Path: base + ending, Write: func(w io.Writer) error { return write(w, s) }}}
	}
}

// sharing is the same of those two that are written with every map.
func sharing(ending string, write func(io.Writer, *trace.Sheet, *place.Areas) error) func(*trace.Sheet, string, JobOptions) []Output {
	return func(s *trace.Sheet, base string, opt JobOptions) []Output {
		return []Output{{Path: base + ending, Write: func(w io.Writer) error { return write(w, s, opt.areas) }}}
	}
}

func geoPackage(s *trace.Sheet, base string, opt JobOptions) []Output {
	return []Output{{Path: base + ".gpkg", WritePath: func(ctx context.Context, path string) error {
		return gpkg.WriteContext(ctx, path, s, ownSystem(s, opt.GeoPackage))
	}}}
}

// ownSystem takes the job's own output system where none is asked for of the
// GeoPackage alone.
func ownSystem(s *trace.Sheet, opt gpkg.Options) gpkg.Options {
	if opt.Frame.CRS.Code == 0 {
		opt.Frame = s.Output
	}
	return opt
}

func printed(s *trace.Sheet, base string, opt JobOptions) []Output {
	return []Output{{Path: base + ".pdf", Write: func(w io.Writer) error { return pdf.Write(w, s, opt.PDF) }}}
}

func onePage(s *trace.Sheet, base string, opt JobOptions) []Output {
	return []Output{{Path: base + ".html", Write: func(w io.Writer) error { return page.Write(w, s, opt.Page) }}}
}

func tables(s *trace.Sheet, base string, _ JobOptions) []Output {
	var outs []Output
	for _, t := range []struct {
		ending, shows string
		write         func(io.Writer, *trace.Sheet) error
	}{
		{"-lines.csv", "table of the lines by station", table.Lines},
		{"-readings.csv", "table of every reading with its fate", table.Readings},
		{"-stakeout.csv", "table of the points to stake out, with what to measure them from", table.StakeOut},
		{"-records.csv", "table of how far records lie from the traces", table.Records},
		{"-cautions.txt", "cautions that belong to the tables", table.Cautions},
	} {
		outs = append(outs, Output{Path: base + t.ending, Shows: t.shows, Write: func(w io.Writer) error { return t.write(w, s) }})
	}
	return outs
}

func waypoints(s *trace.Sheet, base string, opt JobOptions) []Output {
	return []Output{{Path: base + ".gpx", Write: func(w io.Writer) error { return gpx.Write(w, s, opt.GPXEveryM) }}}
}

// FormatNames lists the outputs that a job can be written as beyond those that
// every job has.
func FormatNames() []string {
	var names []string
	for _, f := range formats {
		if !f.always {
			names = append(names, f.name)
		}
	}
	return names
}

// IsFormat reports whether a job can be written so, with every map or on demand.
func IsFormat(name string) bool {
	return slices.ContainsFunc(formats, func(f format) bool { return f.name == name })
}

// FormatWords says what a format is for.
func FormatWords(name string) string {
	for _, f := range formats {
		if f.name == name {
			return f.shows
		}
	}
	return ""
}

// JobOutputs lists the files of a job in a folder: GeoJSON and KML, and the
// further formats asked for by name. None is written of a sheet that has a place which
// is not finite.
func JobOutputs(s *trace.Sheet, dir string, further []string, opt JobOptions) []Output {
	opt.areas = place.SharedAreas(s.Plane)
	var outs []Output
	for _, f := range formats {
		if f.always || slices.Contains(further, f.name) {
			for _, out := range f.outputs(s, filepath.Join(dir, s.Name), opt) {
				out.Shows = cmp.Or(out.Shows, f.shows)
				outs = append(outs, out)
			}
		}
	}
	return withPlaces(s, outs)
}

// WriteJob writes the files of a job into a folder, all or none, and returns
// their paths.
func WriteJob(ctx context.Context, s *trace.Sheet, dir string, further []string, opt JobOptions) ([]string, error) {
	outs := JobOutputs(s, dir, further, opt)
	if err := WriteFilesContext(ctx, outs); err != nil {
		return nil, err
	}
	paths := make([]string, len(outs))
	for i, o := range outs {
		paths[i] = o.Path
	}
	return paths, nil
}
