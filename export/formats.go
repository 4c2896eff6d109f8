package export

import (
	"io"
	"path/filepath"

	"loamline/trace"
)

// format is one kind of output of a job.
type format struct {
	name    string // as --write takes it
	always  bool   // written with every map
	outputs func(s *trace.Sheet, base string) []Output
}

// formats is every output that a job can be written as, in the order in which
// they are listed.
var formats = []format{
	{"geojson", true, one(".geojson", GeoJSON)},
	{"kml", true, one(".kml", KML)},
	{"gpkg", false, geoPackageOutputs},
	{"csv", false, csvOutputs},
	{"gpx", false, one(".gpx", func(w io.Writer, s *trace.Sheet) error { return GPX(w, s, 0) })},
	{"pdf", false, one(".pdf", func(w io.Writer, s *trace.Sheet) error { return PDF(w, s, PDFOptions{}) })},
}

// one is a format of a single streamed file.
func one(ending string, write func(io.Writer, *trace.Sheet) error) func(*trace.Sheet, string) []Output {
	return func(s *trace.Sheet, base string) []Output {
		return []Output{{Path: base + ending, Write: func(w io.Writer) error { return write(w, s) }}}
	}
}

// csvOutputs are the centerlines by station and the readings with their fate.
func csvOutputs(s *trace.Sheet, base string) []Output {
	return append(one("-line.csv", LineCSV)(s, base), one("-readings.csv", ReadingsCSV)(s, base)...)
}

// geoPackageOutputs is the GeoPackage in WGS 84.
func geoPackageOutputs(s *trace.Sheet, base string) []Output {
	return []Output{{Path: base + ".gpkg", WritePath: func(path string) error { return GeoPackage(path, s, GeoPackageOptions{}) }}}
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

// JobOutputs lists the files of a job in a folder: GeoJSON and KML, and the
// further formats asked for by name.
func JobOutputs(s *trace.Sheet, dir string, further []string) []Output {
	var outs []Output
	for _, f := range formats {
		wanted := f.always
		for _, name := range further {
			wanted = wanted || name == f.name
		}
		if wanted {
			outs = append(outs, f.outputs(s, filepath.Join(dir, s.Name))...)
		}
	}
	return outs
}

// WriteJob writes the files of a job into a folder, all or none, and returns
// their paths.
func WriteJob(s *trace.Sheet, dir string, further []string) ([]string, error) {
	outs := JobOutputs(s, dir, further)
	if err := WriteFiles(outs); err != nil {
		return nil, err
	}
	paths := make([]string, len(outs))
	for i, o := range outs {
		paths[i] = o.Path
	}
	return paths, nil
}
