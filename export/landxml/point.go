package landxml

import (
	"strconv"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/stakeout"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// points are a line's places to stake out, as the stake-out table has them without
// its round stations, and where it was exposed. Figures stand in a feature of the
// point's own name beside it, for a point has only attributes.
func (d *document) points(line int) error {
	l := &d.s.Lines[line]
	marks := stakeout.LinePoints(d.s, line, 0)
	exposed := exposedOf(l)
	if len(marks)+len(exposed) == 0 {
		return nil
	}
	code := string(style.Of(l.Setup.Utility).Utility)
	d.open("CgPoints", "name", l.Setup.Name, "code", code, "desc", "starts, bends, ends, crossings and exposures of "+words.LineTitle(l.Setup))
	for _, p := range marks {
		at, err := d.placer.Point(d.s.Plane.LonLat(p.Vertex.Pos))
		if err != nil {
			return err
		}
		elevM := p.Vertex.ElevM
		if p.Told.Distrusted() {
			elevM = trace.Unknown // a point in space would look surer than it is
		}
		d.point(p.ID, d.pointWords(p), code, at, elevM)
	}
	for i, r := range exposed {
		at, err := d.placer.Point(r.Geographic)
		if err != nil {
			return err
		}
		elevM := trace.Unknown
		if d.s.Job.VerticalDatum != "" {
			elevM = r.ElevM - r.DepthM
		}
		d.point(exposedName(l, i), "exposed and measured here", code, at, elevM)
	}
	for _, p := range marks {
		doubt := ""
		if b := p.Told.Doubt; b != nil {
			doubt = b.Words
		}
		depthM, depth95M := p.Told.Depths()
		d.figures(p.ID, doubt, figure{"station_m", p.Vertex.StationM}, figure{"depth_m", depthM}, figure{"depth_95_m", depth95M},
			figure{"horizontal_95_m", p.Told.Horizontal95M}, figure{"datum_doubt_m", layer.Known(p.Told.FrameM)})
	}
	for i, r := range exposed {
		d.figures(exposedName(l, i), "", figure{"station_m", r.StationM}, figure{"depth_m", r.DepthM})
	}
	d.end("CgPoints")
	return nil
}

func (d *document) point(name, desc, code string, at place.XY, elevM float64) {
	var height []float64
	if literal.Finite(elevM) {
		height = []float64{elevM / d.frame.CRS.UnitM}
	}
	d.located("CgPoint", []place.XY{at}, height, "name", name, "desc", desc, "code", code, "featureRef", name)
}

// figure is a number that is told of a point.
type figure struct {
	label string
	value float64
}

// figures are what may be told of a point: its bands with any suspected shift in
// them, and nothing where a doubt leaves none.
func (d *document) figures(name, doubt string, of ...figure) {
	d.open("Feature", "name", name)
	for _, f := range of {
		if literal.Finite(f.value) {
			d.property(f.label, string(literal.AppendReal(nil, f.value, 3)))
		}
	}
	d.property("doubt", doubt)
	d.end("Feature")
}

// pointWords say what is there, how deep and how sure, and whether to trust it.
func (d *document) pointWords(p stakeout.Point) string {
	u := d.s.Job.Units
	desc := words.Capital(p.Title()) + ". " + words.Capital(p.Told.Depth(u, words.JobDate(d.s))) + ". " + words.Capital(p.Told.Position(u)) + "."
	if b := p.Told.Doubt; b != nil && b.Watch {
		desc = words.Capital(b.Words) + ". " + desc
	}
	if ties := stakeout.TieWords(u, p.Ties); ties != "" {
		desc += " Tape this place: " + ties + "."
	}
	return desc
}

// exposedOf are the readings of a line that were measured in an opening.
func exposedOf(l *trace.Line) []*trace.Reading {
	var out []*trace.Reading
	for i := range l.Readings {
		if r := &l.Readings[i]; r.Status == trace.StatusExposed && r.Placed() && r.Geographic.Valid() {
			out = append(out, r)
		}
	}
	return out
}

func exposedName(l *trace.Line, i int) string {
	return l.Setup.Name + ".exposed." + strconv.Itoa(i+1)
}
