package dxf

import (
	"fmt"
	"io"
	"math"
	"strings"

	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/station"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
)

// Sizes on the ground, in metres: they are drawn in the unit of the model.
const (
	textM     = 0.20
	noteM     = 0.40
	textGapM  = 0.30
	maxLabels = 60 // depths beside one line
)

// Write writes the drawing.
func Write(w io.Writer, s *trace.Sheet) error {
	frame, err := place.GridFrame(s)
	if err != nil {
		return err
	}
	d := &drawing{s: s, frame: frame, unitM: frame.CRS.UnitM, placer: place.NewPlacer(s.Plane, frame), seen: map[string]int{},
		lo: place.XY{X: math.Inf(1), Y: math.Inf(1)}, hi: place.XY{X: math.Inf(-1), Y: math.Inf(-1)}}
	// Nothing is written before all is drawn: whether to go on is asked on the way.
	if err := d.draw(func() error { _, err := w.Write(nil); return err }); err != nil {
		return err
	}
	return d.write(w)
}

// drawing gathers entities, for the header before them names layers and extent.
type drawing struct {
	s        *trace.Sheet
	frame    geo.Frame
	unitM    float64
	placer   place.Placer
	entities strings.Builder
	layers   []string
	seen     map[string]int // colour by layer
	lo, hi   place.XY
}

func (d *drawing) draw(asked func() error) error {
	for _, b := range d.s.Background {
		if err := d.path("BACKGROUND", 8, b.Path); err != nil {
			return err
		}
	}
	for _, r := range d.s.Records {
		name, colour := layerName(r.Utility, "record")
		if err := d.path(name, colour, r.Path); err != nil {
			return err
		}
	}
	for _, l := range layer.All() {
		for f := range l.Each(d.s) {
			if err := asked(); err != nil {
				return err
			}
			g, ok, err := featuretable.Place(l, f, d.placer)
			if err != nil {
				return fmt.Errorf("%s, line %q: %w", l.Role, f.Line, err)
			}
			if ok {
				d.feature(l, f, g)
			}
		}
	}
	for i := range d.s.Lines {
		if err := asked(); err != nil {
			return err
		}
		if err := d.line(&d.s.Lines[i]); err != nil {
			return err
		}
	}
	d.notes()
	return nil
}

// layerName is a layer's name in the characters of release 12, and its colour by
// AutoCAD's index: near those of the uniform colour code for temporary marking.
func layerName(u trace.Utility, kind string) (string, int) {
	st := style.Of(u).Utility
	colour := map[trace.Utility]int{trace.Electric: 1, trace.Gas: 2, trace.Communication: 30, trace.Water: 5, trace.Reclaimed: 200, trace.Sewer: 3}[st]
	if colour == 0 {
		colour = 7
	}
	return strings.ToUpper(strings.ReplaceAll(string(st)+"-"+kind, "_", "-")), colour
}

// feature draws one feature of a role.
func (d *drawing) feature(l layer.Layer, f *layer.Feature, g featuretable.Geometry) {
	name, colour := layerName(f.Utility, l.Role)
	point, lines, areas := g.Parts()
	if l.Shape == layer.ShapePoint {
		d.point(name, colour, point)
	}
	for _, path := range lines {
		d.polyline(name, colour, path, nil, false)
	}
	for _, rings := range areas {
		for _, r := range rings {
			d.polyline(name, colour, r, nil, true)
		}
	}
}

// path draws a path of the plane.
func (d *drawing) path(name string, colour int, path []geo.XY) error {
	if len(path) < 2 {
		return nil
	}
	lines, err := d.placer.Lines(path)
	if err != nil {
		return err
	}
	for _, l := range lines {
		d.polyline(name, colour, l, nil, false)
	}
	return nil
}

// line adds what a line has beyond its features: its depths in words, and its
// course in three dimensions where its elevation is known.
func (d *drawing) line(l *trace.Line) error {
	if l.Centerline == nil {
		return nil
	}
	text, colour := layerName(l.Setup.Utility, "text")
	solid, _ := layerName(l.Setup.Utility, "centerline-3d")
	along := words.NewAlong(l)
	for _, p := range l.Centerline.Parts {
		if len(p.Vertices) < 2 {
			continue
		}
		for _, run := range layer.SolidRuns(along, p) {
			path, heights := make([]place.XY, len(run)), make([]float64, len(run))
			for i, v := range run {
				at, err := d.placer.Point(d.s.Plane.LonLat(v.Pos))
				if err != nil {
					return err
				}
				path[i], heights[i] = at, v.ElevM/d.unitM
			}
			d.polyline(solid, colour, path, heights, false)
		}
		step := station.StepM(d.s.Job.Units, l.Centerline.Parts[len(l.Centerline.Parts)-1].ToM(), maxLabels)
		course := geo.NewPolyline(p.Path())
		for _, m := range station.Round(p, step) {
			v := station.At(p, m)
			dir := course.Direction(m - p.FromM())
			at, err := d.placer.Point(d.s.Plane.LonLat(v.Pos.Add(geo.XY{X: dir.Y, Y: -dir.X}.Scale(textGapM))))
			if err != nil {
				return err
			}
			d.text(text, colour, at, textM, fitting(l.Setup.Name, 80)+" at "+d.s.Job.Units.Long(v.StationM)+": "+along.At(v).DepthLabel(d.s.Job.Units))
		}
	}
	return nil
}

// notes stand below the drawing: what it is, in which system, and the cautions.
func (d *drawing) notes() {
	if !(d.lo.X <= d.hi.X) {
		return
	}
	lines := []string{"Job " + d.s.Name + ", made by loamline " + d.s.Version + ". Coordinates: " + place.FrameWords(d.frame) + "."}
	if said := d.s.OutputWords.In(d.s.Job.Units); said != "" {
		lines = append(lines, said)
	}
	if v := d.s.Job.VerticalDatum; v != "" {
		lines = append(lines, "Elevations above "+v+".")
	}
	for _, a := range advice.MostImportantFirst(d.s) {
		lines = append(lines, "CHECK BEFORE DIGGING: "+words.Item(d.s.Job.Units, a))
	}
	lines = append(lines, words.Cautions(d.s)...)
	at := place.XY{X: d.lo.X, Y: d.lo.Y - 4*noteM/d.unitM}
	for _, l := range lines {
		for _, piece := range wrapped(l, 110) {
			d.text("NOTES", 7, at, noteM, piece)
			at.Y -= 1.6 * noteM / d.unitM
		}
	}
}

// wrapped breaks a text at blanks, and a word that is too long where it must be; n
// is counted as release 12 writes it, which has up to 255 characters in a text.
func wrapped(s string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		for len(plain(w)) > n {
			head := fitting(w, n)
			out, w = append(out, strings.TrimSpace(line+" "+head)), w[len(head):]
			line = ""
		}
		if line != "" && len(plain(line))+1+len(plain(w)) > n {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}

// fitting is as much of the beginning of a text as n written characters hold.
func fitting(s string, n int) string {
	for i := range s {
		if len(plain(s[:i])) > n-len(`\U+0000`) {
			return s[:i]
		}
	}
	return s
}
