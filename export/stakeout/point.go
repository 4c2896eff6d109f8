package stakeout

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"loamline.example/export/station"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Point is a place to be staked out.
type Point struct {
	ID     string   // "W-1.3"; empty for a round station
	Line   int      // index into the sheet's lines
	What   []string // what is there, in words; empty for a round station
	Vertex trace.Vertex
	Told   words.Told
	Ties   []Tie
}

// Title is what is there in a few words: "start; bleed-over suspected from here".
func (p Point) Title() string { return strings.Join(p.What, "; ") }

// bendM is how far a line may leave the straight between two points before
// another one stands between them.
const bendM = 0.2

// togetherM is how near points of one line may lie and be one.
const togetherM = 0.1

// event is a reason for a point, before those that fall together are joined.
type event struct {
	stationM float64
	what     string
	rank     int // an end stays where it is, others come to it
}

const (
	rankRound = iota
	rankFlag
	rankBend
	rankCrossing
	rankEnd
)

// Points lists the points of every line by station. Round stations every everyM
// metres stand between them; 0 leaves them out.
func Points(s *trace.Sheet, everyM float64) []Point {
	var out []Point
	for i := range s.Lines {
		out = append(out, LinePoints(s, i, everyM)...)
	}
	return out
}

// LinePoints is Points for one line, by its index.
func LinePoints(s *trace.Sheet, line int, everyM float64) []Point {
	l := &s.Lines[line]
	if l.Centerline == nil {
		return nil
	}
	var events []event
	for k, p := range l.Centerline.Parts {
		events = append(events, partEvents(l, k)...)
		if everyM > 0 {
			round := station.Round(p, everyM)
			for _, m := range round[1 : len(round)-1] {
				events = append(events, event{m, "", rankRound})
			}
		}
	}
	events = append(events, findingEvents(s, l)...)
	var out []Point
	no, along := 0, words.NewAlong(l)
	for _, p := range joined(events) {
		v, ok := at(l, p.stationM)
		if !ok {
			continue // within a stretch that is not traced there is no place to mark
		}
		pt := Point{Line: line, What: p.what, Vertex: v, Told: along.At(v), Ties: tiesOf(s.Features, v.Pos)}
		if len(p.what) > 0 {
			if inside := insideOf(l, pt); inside != "" && !strings.Contains(pt.Title(), inside) {
				pt.What = append(pt.What, inside)
			}
			no++
			pt.ID = l.Setup.Name + "." + strconv.Itoa(no)
		}
		out = append(out, pt)
	}
	return out
}

// partEvents are the ends and bends of a traced stretch.
func partEvents(l *trace.Line, k int) []event {
	parts := l.Centerline.Parts
	p := parts[k]
	start, end := "start of the line as traced", "end of the line as traced"
	if _, before := words.NotTracedBeyond(l); before && k == 0 {
		start += ", not traced before it"
	}
	if past, _ := words.NotTracedBeyond(l); past && k == len(parts)-1 {
		end += ", not traced past it"
	}
	if k > 0 {
		start = "traced again from here"
	}
	if k < len(parts)-1 {
		end = "traced to here"
	}
	out := []event{{p.FromM(), start, rankEnd}, {p.ToM(), end, rankEnd}}
	for _, m := range bendsOf(p) {
		out = append(out, event{m, "bend", rankBend})
	}
	return out
}

// insideOf says of a point why nobody may trust the mark there; the ends of traced
// stretches tell of the gap between them.
func insideOf(l *trace.Line, p Point) string {
	for _, f := range l.Findings {
		if b, ok := f.(finding.BleedOver); ok && b.Jump && b.FromM <= p.Vertex.StationM && p.Vertex.StationM <= b.ToM {
			return words.MayHaveJumped
		}
	}
	if p.Told.Distrusted() && p.Told.Doubt.Role() != (finding.Gap{}).Role() {
		return p.Told.Doubt.Words
	}
	return ""
}

// flagged says how a finding's stretch is told at its two ends; one without
// words of its own is told by its title.
var flagged = finding.PerKind[string]{
	BleedOver: func(f finding.BleedOver) string {
		if f.Jump {
			return words.MayHaveJumped
		}
		return words.Grade(f.Grade)
	},
	Doubt:            func(finding.Doubt) string { return "line in doubt" },
	Gap:              func(finding.Gap) string { return "" }, // the ends of the traced stretches tell it
	Crossing:         func(finding.Crossing) string { return "" },
	FieldCheck:       func(finding.FieldCheck) string { return "" },
	ExposedCheck:     func(finding.ExposedCheck) string { return "" },
	RecordDifference: func(finding.RecordDifference) string { return "" }, // the trace stands as it was read
	Else: func(f trace.Finding) string {
		if !f.NeedsEyes() {
			return ""
		}
		return words.Capital(words.RoleTitle(f.Role()))
	},
}

func findingEvents(s *trace.Sheet, l *trace.Line) []event {
	var out []event
	cross := func(c finding.Crossing) {
		what := "crosses " + c.Other
		if c.ByJump {
			what = "drawn across " + c.Other
		}
		if c.SeparationM > 0 {
			what = "closest to " + c.Other
		}
		out = append(out, event{c.StationM, what, rankCrossing})
	}
	for _, f := range l.Findings {
		if c, ok := f.(finding.Crossing); ok {
			cross(c)
		}
		from, to := f.Span()
		if what := flagged.Of(f); what != "" && trace.Known(from) && trace.Known(to) {
			out = append(out, event{from, what + " from here", rankFlag}, event{to, what + " to here", rankFlag})
		}
	}
	for _, c := range finding.CrossedBy(s, l.Setup.Name) {
		cross(c)
	}
	return out
}

// place is one or more events at a station.
type place struct {
	stationM float64
	rank     int
	what     []string
}

// joined makes one place of events that lie together.
func joined(events []event) []place {
	slices.SortStableFunc(events, func(a, b event) int {
		switch {
		case a.stationM < b.stationM:
			return -1
		case a.stationM > b.stationM:
			return 1
		}
		return b.rank - a.rank
	})
	var out []place
	for _, e := range events {
		if n := len(out) - 1; n >= 0 && e.stationM-out[n].stationM <= togetherM && (e.rank != rankEnd || out[n].rank != rankEnd) {
			if e.rank > out[n].rank {
				out[n].stationM, out[n].rank = e.stationM, e.rank
			}
			if e.what != "" && !slices.Contains(out[n].what, e.what) {
				out[n].what = append(out[n].what, e.what)
			}
			continue
		}
		p := place{stationM: e.stationM, rank: e.rank}
		if e.what != "" {
			p.what = []string{e.what}
		}
		out = append(out, p)
	}
	return out
}

// at is the line at a station; a place a hair beyond an end is taken to it.
func at(l *trace.Line, stationM float64) (trace.Vertex, bool) {
	for _, p := range l.Centerline.Parts {
		if stationM >= p.FromM()-togetherM && stationM <= p.ToM()+togetherM {
			return station.At(p, math.Max(p.FromM(), math.Min(p.ToM(), stationM))), true
		}
	}
	return trace.Vertex{}, false
}

// bendsOf are the stations of a part's elbows and of as many vertices between as
// keep the line within bendM of the straights.
func bendsOf(p trace.Part) []float64 {
	marks := []float64{p.FromM(), p.ToM()}
	for _, v := range p.Vertices {
		if v.Corner {
			marks = append(marks, v.StationM)
		}
	}
	slices.Sort(marks)
	for again := true; again; {
		again = false
		for i, n := 1, len(marks); i < n; i++ {
			if v, off := farthest(p, marks[i-1], marks[i]); off > bendM {
				marks = append(marks, v.StationM)
				again = true
			}
		}
		slices.Sort(marks)
	}
	return slices.DeleteFunc(marks, func(m float64) bool { return m <= p.FromM() || m >= p.ToM() })
}

// farthest returns the vertex between two stations that lies farthest from the
// straight between them.
func farthest(p trace.Part, fromM, toM float64) (trace.Vertex, float64) {
	chord := geo.NewPolyline([]geo.XY{station.At(p, fromM).Pos, station.At(p, toM).Pos})
	var best trace.Vertex
	bestM := 0.0
	first := sort.Search(len(p.Vertices), func(i int) bool { return p.Vertices[i].StationM > fromM+1e-3 })
	for _, v := range p.Vertices[first:] {
		if v.StationM >= toM-1e-3 {
			break
		}
		if d := v.Pos.Dist(chord.Nearest(v.Pos).At); d > bestM {
			best, bestM = v, d
		}
	}
	return best, bestM
}
