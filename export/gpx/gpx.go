package gpx

import (
	"fmt"
	"io"
	"strings"

	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/stakeout"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Write writes waypoints for re-marking when the paint has gone, and the lines as
// tracks: GPX 1.1, WGS 84. A waypoint stands every everyM metres of station and at
// every point of the stake-out table, named by line and station, with its ties;
// zero takes 5 m, or 25 ft in US units. No elevation is written: a handheld would
// take a depth for one.
func Write(w io.Writer, s *trace.Sheet, everyM float64) error {
	if !(everyM > 0) {
		everyM = 5
		if s.Job.Units == geo.US {
			everyM = 25 * geo.FootM
		}
	}
	g := &gpxWriter{s: s, Degrees: place.NewDegrees(s.Plane), w: w, date: words.JobDate(s)}
	g.grid, g.projected = stakeout.GridOf(s)
	g.head()
	for _, p := range stakeout.Points(s, everyM) {
		g.waypoint(p)
	}
	g.eachPart(g.track)
	g.printf("</gpx>\n")
	return g.err
}

type gpxWriter struct {
	place.Degrees
	s    *trace.Sheet
	w    io.Writer
	date string
	err  error
	grid stakeout.Grid // that the points are told in besides, where the job has one

	projected bool
}

func (g *gpxWriter) printf(format string, args ...any) {
	if g.err == nil {
		_, g.err = fmt.Fprintf(g.w, format, args...)
	}
}

func (g *gpxWriter) head() {
	g.printf("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	g.printf("<gpx version=\"1.1\" creator=\"%s\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n", literal.XML("loamline "+g.s.Version))
	g.printf("<metadata><name>%s</name><desc>%s</desc></metadata>\n", literal.XML(words.DocumentName(g.s)), literal.XML(about(g.s)))
}

// about is what goes with the file wherever it goes: the frame, the cautions, and what to
// check before digging, of which a waypoint tells that of its place alone.
func about(s *trace.Sheet) string {
	out := strings.Join(words.Cautions(s), " ")
	if frame := s.Frame.In(s.Job.Units); frame != "" {
		out = frame + " " + out
	}
	if check := words.Advice(s); len(check) > 0 {
		out += " CHECK BEFORE DIGGING: " + strings.Join(check, " ")
	}
	return out
}

func (g *gpxWriter) eachPart(do func(*trace.Line, trace.Part)) {
	for i := range g.s.Lines {
		l := &g.s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		for _, p := range l.Centerline.Parts {
			do(l, p)
		}
	}
}

func (g *gpxWriter) waypoint(p stakeout.Point) {
	u, l, t := g.s.Job.Units, &g.s.Lines[p.Line], p.Told
	name := l.Setup.Name + " " + u.Long(p.Vertex.StationM)
	for _, w := range p.What {
		if w == "bend" || strings.Contains(w, "cross") || strings.Contains(w, "closest") {
			name += " " + w
		}
	}
	desc := words.Capital(t.Depth(u, g.date)) + ". " + words.Capital(t.Position(u)) + "."
	if b := t.Doubt; b != nil {
		switch {
		case b.Watch:
			desc = words.Capital(b.Words) + ". " + desc
		case b.Role() != (finding.Gap{}).Role(): // the mark on a gap's edge stands, the figures about it do not
			name += ", do not trust"
		}
	}
	if p.ID != "" {
		desc = p.ID + ": " + p.Title() + ". " + desc
	}
	if g.projected {
		if at := g.grid.Words(g.s.Plane.LonLat(p.Vertex.Pos)); at != "" {
			desc += " " + at + "."
		}
	}
	if ties := stakeout.TieWords(u, p.Ties); ties != "" {
		desc += " Tape this place: " + ties + "."
	}
	at := g.XY(p.Vertex.Pos)
	g.printf("<wpt lat=\"%s\" lon=\"%s\"><name>%s</name><desc>%s</desc><type>%s</type></wpt>\n",
		place.DegreesText(at.Lat), place.DegreesText(g.Home(at.Lon)), literal.XML(name), literal.XML(desc), literal.XML(style.Of(l.Setup.Utility).Name))
}

func (g *gpxWriter) track(l *trace.Line, p trace.Part) {
	g.printf("<trk><name>%s</name><desc>%s</desc><type>%s</type>", literal.XML(words.LineTitle(l.Setup)+", "+words.Range(g.s.Job.Units, p.FromM(), p.ToM())),
		"Approximate. Expose to verify.", literal.XML(style.Of(l.Setup.Utility).Name))
	for _, piece := range g.CutLine(g.Path(place.DensePath(p.Path()))) {
		g.printf("<trkseg>")
		for _, q := range piece {
			g.printf("<trkpt lat=\"%s\" lon=\"%s\"/>", place.DegreesText(q.Lat), place.DegreesText(q.Lon))
		}
		g.printf("</trkseg>")
	}
	g.printf("</trk>\n")
}
