package shp

import (
	"archive/zip"
	"fmt"
	"io"
	"strings"

	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Write writes the zip. Coordinates are of the job's output system, or WGS 84 degrees.
func Write(w io.Writer, s *trace.Sheet) error {
	z := zip.NewWriter(w)
	frame := s.Output
	if frame.CRS.Code == 0 {
		var err error
		if frame, err = geo.NewFrame("EPSG:4326", "", 0); err != nil {
			return err
		}
	}
	a := &set{z: z, s: s, frame: frame, placer: place.NewPlacer(s.Plane, frame), asked: func() error { _, err := w.Write(nil); return err }}
	for _, l := range layer.AllWithVertices() {
		if err := a.layer(l); err != nil {
			return fmt.Errorf("%s: %w", l.Role, err)
		}
	}
	if err := a.solid(); err != nil {
		return err
	}
	if err := a.file("columns.txt", []byte(a.columns.String())); err != nil {
		return err
	}
	if err := a.file("cautions.txt", []byte(a.notes())); err != nil {
		return err
	}
	return z.Close()
}

// set is the files of a job while they are written.
type set struct {
	z       *zip.Writer
	s       *trace.Sheet
	frame   geo.Frame
	placer  place.Placer
	columns strings.Builder
	asked   func() error // whether to go on: a file is written only when it is whole
}

// file adds a file without a time: the same job gives the same bytes.
func (a *set) file(name string, content []byte) error {
	w, err := a.z.CreateHeader(&zip.FileHeader{Name: a.s.Name + "/" + name, Method: zip.Deflate})
	if err == nil {
		_, err = w.Write(content)
	}
	return err
}

// layer writes a role that has features. A reading without a place, which a
// Shapefile has null shapes for, is written too.
func (a *set) layer(l layer.Layer) error {
	kind := map[uint32]uint32{featuretable.Point: shapePoint, featuretable.LineString: shapeLine, featuretable.MultiLineString: shapeLine, featuretable.MultiPolygon: shapeArea}[featuretable.Code(l)]
	var columns []layer.Column
	var index []int
	for i, c := range l.Columns {
		if c.Type != layer.TypeReals { // one value a vertex: centerline_vertex has them
			columns, index = append(columns, c), append(index, i)
		}
	}
	f := newShapefile(kind)
	t := newTable(append(append([]layer.Column{}, layer.Common...), columns...))
	for feature := range l.Each(a.s) {
		if err := a.asked(); err != nil {
			return err
		}
		g, ok, err := featuretable.Place(l, feature, a.placer)
		if err != nil {
			return fmt.Errorf("line %q: %w", feature.Line, err)
		}
		f.add(g, ok)
		values := []layer.Value{{Type: layer.TypeText, Known: true, Text: l.Role}, {Type: layer.TypeText, Known: true, Text: feature.Line},
			{Type: layer.TypeText, Known: true, Text: string(style.Of(feature.Utility).Utility)}}
		for _, i := range index {
			values = append(values, feature.Values[i])
		}
		t.add(values)
	}
	if f.records == 0 {
		return nil
	}
	return a.write(l.Role, f, t)
}

// solid writes the stretches whose elevation is known and to be trusted, in three
// dimensions, heights in metres of the job's vertical frame.
func (a *set) solid() error {
	f := newShapefile(shapeLineZ)
	t := newTable(append(append([]layer.Column{}, layer.Common...), layer.Column{Name: "part", Type: layer.TypeInteger}))
	for i := range a.s.Lines {
		l := &a.s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		along := words.NewAlong(l)
		for k, p := range l.Centerline.Parts {
			for _, run := range layer.SolidRuns(along, p) {
				path, heights, err := a.solidPart(run)
				if err != nil {
					return fmt.Errorf("line %q: %w", l.Setup.Name, err)
				}
				f.addSolid(path, heights)
				t.add([]layer.Value{{Type: layer.TypeText, Known: true, Text: layer.Centerline.Role}, {Type: layer.TypeText, Known: true, Text: l.Setup.Name},
					{Type: layer.TypeText, Known: true, Text: string(style.Of(l.Setup.Utility).Utility)}, {Type: layer.TypeInteger, Known: true, Num: float64(k + 1)}})
			}
		}
	}
	if f.records == 0 {
		return nil
	}
	return a.write("centerline_3d", f, t)
}

func (a *set) solidPart(run []trace.Vertex) (path []place.XY, heights []float64, err error) {
	for _, v := range run {
		at, err := a.placer.Point(a.s.Plane.LonLat(v.Pos))
		if err != nil {
			return nil, nil, err
		}
		path, heights = append(path, at), append(heights, v.ElevM)
	}
	return path, heights, nil
}

// write adds the five files of a set.
func (a *set) write(name string, f *shapefile, t *table) error {
	for i, c := range t.columns {
		if t.names[i] != c.Name {
			fmt.Fprintf(&a.columns, "%s: %s is %s\n", name, t.names[i], c.Name)
		}
	}
	shp, shx := f.files()
	for _, part := range []struct {
		ending  string
		content []byte
	}{{".shp", shp}, {".shx", shx}, {".dbf", t.file()}, {".prj", []byte(a.frame.CRS.PRJ())}, {".cpg", []byte("UTF-8")}} {
		if len(part.content) == 0 {
			return fmt.Errorf("%s%s: the definition of %s is not held here: choose another system with --output-crs, or leave out shp", name, part.ending, a.frame.CRS.ID())
		}
		if err := a.file(name+part.ending, part.content); err != nil {
			return err
		}
	}
	return nil
}

// notes are what belongs to the files wherever they go.
func (a *set) notes() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Job %s, made by loamline %s. Coordinates: %s.\n", a.s.Name, a.s.Version, place.FrameWords(a.frame))
	if said := a.s.OutputWords.In(a.s.Job.Units); said != "" {
		b.WriteString(said + "\n")
	}
	check := words.Advice(a.s)
	if len(check) > 0 {
		b.WriteString("\nCheck before digging:\n")
	}
	for _, w := range check {
		b.WriteString("- " + w + "\n")
	}
	b.WriteString("\nCautions:\n")
	for _, w := range words.Cautions(a.s) {
		b.WriteString("- " + w + "\n")
	}
	return b.String()
}
