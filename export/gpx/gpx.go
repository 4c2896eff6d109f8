package gpx

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"loamline/export/literal"
	"loamline/export/place"
	"loamline/export/station"
	"loamline/export/style"
	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
)

// bendM is how far the line may leave the straight between two waypoints before
// another one stands between them.
const bendM = 0.2

// Write writes waypoints for re-marking when the paint has gone, and the lines as
// tracks: GPX 1.1, WGS 84. A waypoint stands every everyM metres of station, at
// both ends of each traced part and at bends, named by line and station; zero
// takes 5 m, or 25 ft in US units. No elevation is written: a handheld would
// take a depth for one.
func Write(w io.Writer, s *trace.Sheet, everyM float64) error {
	if !(everyM > 0) {
		everyM = 5
		if s.Job.Units == geo.US {
			everyM = 25 * geo.FootM
		}
	}
	g := &gpxWriter{s: s, Degrees: place.NewDegrees(s.Plane), w: w, date: words.JobDate(s)}
	g.head()
	g.eachPart(func(l *trace.Line, p trace.Part) { g.waypoints(l, p, everyM) })
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
}

func (g *gpxWriter) printf(format string, args ...any) {
	if g.err == nil {
		_, g.err = fmt.Fprintf(g.w, format, args...)
	}
}

func (g *gpxWriter) head() {
	g.printf("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	g.printf("<gpx version=\"1.1\" creator=\"%s\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n", literal.XML("loamline "+g.s.Version))
	g.printf("<metadata><name>%s</name><desc>%s</desc></metadata>\n", literal.XML(words.DocumentName(g.s)), literal.XML(strings.Join(g.s.Cautions, " ")))
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

func (g *gpxWriter) waypoints(l *trace.Line, p trace.Part, everyM float64) {
	u := g.s.Job.Units
	for _, st := range markStations(p, everyM) {
		v := station.At(p, st.m)
		name := l.Setup.Name + " " + u.Long(v.StationM)
		if st.bend {
			name += " bend"
		}
		t := words.At(l, v)
		desc := words.Capital(t.Depth(u, g.date)) + ". " + words.Capital(t.Position(u)) + "."
		if b := t.Doubt; b != nil {
			switch {
			case b.Watch:
				desc = words.Capital(b.Words) + ". " + desc
			case b.Role() != (trace.Gap{}).Role(): // the mark on a gap's edge stands, the figures about it do not
				name += ", do not trust"
			}
		}
		at := g.XY(v.Pos)
		g.printf("<wpt lat=\"%s\" lon=\"%s\"><name>%s</name><desc>%s</desc><type>%s</type></wpt>\n",
			place.DegreesText(at.Lat), place.DegreesText(g.Home(at.Lon)), literal.XML(name), literal.XML(desc), literal.XML(style.Of(l.Setup.Utility).Name))
	}
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

// mark is a place to be marked on the ground. Of two that fall together the one
// of the higher rank stays: an end before a bend before a round station.
type mark struct {
	m    float64
	rank int
	bend bool
}

const (
	rankRound = iota
	rankBend
	rankEnd
)

// markStations are the round stations of a part, its ends, its elbows, and as
// many vertices between as keep the line within bendM of the straights.
func markStations(p trace.Part, everyM float64) []mark {
	out := []mark{{p.FromM(), rankEnd, false}, {p.ToM(), rankEnd, false}}
	round := station.Round(p, everyM)
	for _, m := range round[1 : len(round)-1] {
		out = append(out, mark{m, rankRound, false})
	}
	for _, v := range p.Vertices {
		if v.Corner {
			out = append(out, mark{v.StationM, rankBend, true})
		}
	}
	out = mergeMarks(out, everyM/20)
	for again := true; again; {
		again = false
		for i, n := 1, len(out); i < n; i++ {
			if v, off := farthest(p, out[i-1].m, out[i].m); off > bendM {
				out = append(out, mark{v.StationM, rankBend, true})
				again = true
			}
		}
		sortMarks(out)
	}
	return out
}

// mergeMarks sorts and leaves one of those that lie within a distance.
func mergeMarks(marks []mark, withinM float64) []mark {
	sortMarks(marks)
	keep := marks[:0]
	for _, m := range marks {
		n := len(keep)
		if n == 0 || m.m-keep[n-1].m > withinM || (m.rank == rankEnd && keep[n-1].rank == rankEnd) {
			keep = append(keep, m)
			continue
		}
		if m.rank > keep[n-1].rank {
			keep[n-1], m = m, keep[n-1]
		}
		keep[n-1].bend = keep[n-1].bend || m.bend
	}
	return keep
}

func sortMarks(m []mark) { sort.SliceStable(m, func(i, j int) bool { return m[i].m < m[j].m }) }

// farthest returns the vertex between two stations that lies farthest from the
// straight between them.
func farthest(p trace.Part, fromM, toM float64) (trace.Vertex, float64) {
	chord := geo.NewPolyline([]geo.XY{station.At(p, fromM).Pos, station.At(p, toM).Pos})
	var best trace.Vertex
	bestM := 0.0
	for _, v := range p.Vertices {
		if v.StationM <= fromM+1e-3 || v.StationM >= toM-1e-3 {
			continue
		}
		if d := v.Pos.Dist(chord.Nearest(v.Pos).At); d > bestM {
			best, bestM = v, d
		}
	}
	return best, bestM
}
