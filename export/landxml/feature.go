package landxml

import (
	"fmt"
	"strings"

	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// layer writes the collection of a role; the schema knows no empty one.
func (d *document) layer(l layer.Layer) error {
	some := false
	for f := range l.Each(d.s) {
		if _, err := d.out.Write(nil); err != nil { // the job is stopped, or the disk is full
			return err
		}
		g, ok, err := featuretable.Place(l, f, d.placer)
		if err != nil {
			return fmt.Errorf("line %q: %w", f.Line, err)
		}
		if !some {
			some = true
			d.open("PlanFeatures", "name", l.Role, "desc", l.Words)
		}
		d.open("PlanFeature", "name", d.name(f.Line+" "+strings.ReplaceAll(l.Role, "_", " ")), "desc", string(style.Of(f.Utility).Utility)+" "+strings.ReplaceAll(l.Role, "_", " "))
		if ok {
			if err := d.geometry(l, f, g); err != nil {
				return fmt.Errorf("line %q: %w", f.Line, err)
			}
		}
		d.open("Feature", "name", l.Role)
		d.property("role", l.Role)
		d.property("line", f.Line)
		d.property("utility", string(style.Of(f.Utility).Utility))
		for i, c := range l.Columns {
			d.column(c, f.Values[i])
		}
		d.end("Feature")
		d.end("PlanFeature")
	}
	if some {
		d.end("PlanFeatures")
	}
	return nil
}

// name is a name that no other feature has: readers look features up by it.
func (d *document) name(wanted string) string {
	d.names[wanted]++
	if n := d.names[wanted]; n > 1 {
		return d.name(fmt.Sprintf("%s %d", wanted, n))
	}
	return wanted
}

func (d *document) geometry(l layer.Layer, f *layer.Feature, g featuretable.Geometry) error {
	point, lines, areas := g.Parts()
	switch {
	case l.Shape == layer.ShapePoint:
		d.located("Location", []place.XY{point}, nil)
	case l.Role == layer.Centerline.Role:
		// Vertex by vertex, so that the lists beside it count the same.
		path, err := d.path(f.Path)
		if err != nil {
			return err
		}
		d.course(path, nil, "")
	default:
		for _, path := range lines {
			d.course(path, nil, "")
		}
		for _, rings := range areas {
			for i, r := range rings {
				desc := "edge of a hole"
				if i == 0 {
					desc = "outer edge"
				}
				d.course(r, nil, desc)
			}
		}
	}
	return nil
}

// path places the vertices of the plane one by one.
func (d *document) path(of []geo.XY) ([]place.XY, error) {
	out := make([]place.XY, len(of))
	for i, p := range of {
		var err error
		if out[i], err = d.placer.Point(d.s.Plane.LonLat(p)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// solid writes the stretches whose elevation is known and to be trusted, as lines in
// space: plan features of their own, for the lists of a stretch count all of it.
func (d *document) solid() error {
	some := false
	for i := range d.s.Lines {
		l := &d.s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		along := words.NewAlong(l)
		for _, p := range l.Centerline.Parts {
			for _, run := range layer.SolidRuns(along, p) {
				if !some {
					some = true
					d.open("PlanFeatures", "name", solidName, "desc", "traced stretches whose elevation is known and whose depth is to be trusted, at the elevation of the line's centre")
				}
				if err := d.solidRun(l, run); err != nil {
					return fmt.Errorf("line %q: %w", l.Setup.Name, err)
				}
			}
		}
	}
	if some {
		d.end("PlanFeatures")
	}
	return nil
}

// solidName is the collection of lines in space, as in the Shapefiles.
const solidName = "centerline_3d"

func (d *document) solidRun(l *trace.Line, run []trace.Vertex) error {
	flat, heights := make([]geo.XY, len(run)), make([]float64, len(run))
	for i, v := range run {
		flat[i], heights[i] = v.Pos, v.ElevM/d.frame.CRS.UnitM
	}
	path, err := d.path(flat)
	if err != nil {
		return err
	}
	utility := string(style.Of(l.Setup.Utility).Utility)
	d.open("PlanFeature", "name", d.name(l.Setup.Name+" centerline 3d"), "desc", utility+" centerline in space")
	d.course(path, heights, "")
	d.open("Feature", "name", solidName)
	d.property("line", l.Setup.Name)
	d.property("utility", utility)
	d.property("from_m", fmt.Sprintf("%.3f", run[0].StationM))
	d.property("to_m", fmt.Sprintf("%.3f", run[len(run)-1].StationM))
	d.end("Feature")
	d.end("PlanFeature")
	return nil
}

// known are the lines and outlines of the layers that went into the job.
func (d *document) known() error {
	if len(d.s.Records) > 0 {
		d.open("PlanFeatures", "name", "record", "desc", "lines known from records, as drawn there")
		for _, r := range d.s.Records {
			if err := d.record(r.Name+" record", r.Name, r.Source, string(style.Of(r.Utility).Utility), r.DoubtM, r.DoubtWhy, r.Path); err != nil {
				return fmt.Errorf("record %q: %w", r.Name, err)
			}
		}
		d.end("PlanFeatures")
	}
	if len(d.s.Background) > 0 {
		d.open("PlanFeatures", "name", "background", "desc", "kerbs, buildings and the like from layers: no lines that could be dug up")
		for _, b := range d.s.Background {
			if err := d.record(b.Name+" background", b.Name, b.Source, "", b.DoubtM, "", b.Path); err != nil {
				return fmt.Errorf("background %q: %w", b.Name, err)
			}
		}
		d.end("PlanFeatures")
	}
	return nil
}

func (d *document) record(name, called, source, utility string, doubtM float64, why string, of []geo.XY) error {
	path, err := d.path(of)
	if err != nil {
		return err
	}
	d.open("PlanFeature", "name", d.name(name))
	if len(path) > 1 {
		d.course(path, nil, "")
	}
	d.open("Feature", "name", "source")
	d.property("name", called)
	d.property("source", source)
	d.property("utility", utility)
	if doubtM > 0 {
		d.property("datum_doubt_m", fmt.Sprintf("%.1f", doubtM))
	}
	d.property("datum_doubt", why)
	d.end("Feature")
	d.end("PlanFeature")
	return nil
}
