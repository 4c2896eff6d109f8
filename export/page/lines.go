package page

import (
	"slices"
	"strconv"
	"strings"

	"loamline.example/export/station"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
)

// listedLine is a line as the page's lists tell it.
type listedLine struct {
	Index      int
	Title      string
	Name       string
	Swatch     swatch
	Traced     bool
	Setup      both
	Length     both
	Depth      both
	Position   both
	Zone       both
	Counts     trace.Counts
	Stations   []listedStation
	Points     []listedPoint
	NoTies     bool // nothing to tape any of them from
	Notes      []both
	Checked    []both
	Impossible bool // one of the checks was not possible
	Widths     []listedWidth
	Datum      both   // how much of every figure across is the datum's
	NoBound    string // what a question mark behind one of the widths means; empty where none has one
	Paint      both   // where distances to keep off count from, where it matters
}

// listedWidth is a stretch with how far its caution zone reaches.
type listedWidth struct {
	Stretch, Right, Left both
	Doubt                bool
}

// swatch draws a class's line in a list.
type swatch struct {
	Code, Hex, Base, Dash string
}

// swatchWidth is the stroke of a swatch, in pixels.
const swatchWidth = 4

func swatchOf(u trace.Utility) swatch {
	st := style.Of(u)
	var dash []string
	for _, d := range st.Dash {
		dash = append(dash, strconv.FormatFloat(d*swatchWidth, 'g', -1, 64))
	}
	if len(dash) == 0 {
		dash = []string{"none"}
	}
	return swatch{st.Code, st.Hex, baseUnder(st.Hex), strings.Join(dash, " ")}
}

// listedStyle is a class in the legend.
type listedStyle struct {
	Name   string
	Swatch swatch
}

// listedStation is one row of a line's table.
type listedStation struct {
	Station, Depth, Position both
	Doubt                    bool
}

func listLine(s *trace.Sheet, i int) listedLine {
	l, job := &s.Lines[i], s.Job.Units
	out := listedLine{Index: i, Title: words.LineTitle(l.Setup), Name: l.Setup.Name, Swatch: swatchOf(l.Setup.Utility),
		Counts: trace.CountReadings(l.Readings), Checked: bothSentences(s, slices.Concat(l.Checked, l.Statements)),
		Setup: bothWays(job, func(u geo.Units) string { return words.Sentence(words.Setup(u, l.Setup)) })}
	c := l.Centerline
	if c == nil {
		return out
	}
	date := words.JobDate(s)
	out.Traced = true
	out.Notes = bothSentences(s, c.Notes)
	out.Length = bothWays(job, func(u geo.Units) string { return u.Long(c.TracedM()) })
	out.Depth = bothWays(job, func(u geo.Units) string { return words.Sentence(words.DepthRange(u, l, date)) })
	out.Position = bothWays(job, func(u geo.Units) string { return words.Sentence(words.Capital(words.PositionRange(u, l))) })
	out.Zone = bothWays(job, func(u geo.Units) string { return words.Capital(words.Zone(u, l.Tolerance)) })
	step := station.StepM(job, c.Parts[len(c.Parts)-1].ToM(), stationsListed)
	along := words.NewAlong(l)
	for _, p := range c.Parts {
		for _, at := range station.Round(p, step) {
			v := station.At(p, at)
			out.Stations = append(out.Stations, listStation(job, v, along.At(v)))
		}
	}
	out.Points = listPoints(s, i)
	out.NoTies = !slices.ContainsFunc(out.Points, func(p listedPoint) bool { return p.Ties.Metric != "" })
	out.Impossible = slices.ContainsFunc(l.Checked, func(c trace.Remark) bool { _, not := words.NotCheckable(c); return not })
	var farther bool
	if out.Widths, farther = listWidths(job, l); farther {
		out.NoBound = words.NoBound
	}
	out.Datum = bothWays(job, func(u geo.Units) string { return words.FrameShare(u, l.Caution) })
	out.Paint = bothWays(job, func(u geo.Units) string { return words.PaintFirst(u, l.Caution) })
	return out
}

func listStation(job geo.Units, v trace.Vertex, told words.Told) listedStation {
	return listedStation{
		Station:  bothWays(job, func(u geo.Units) string { return u.Long(v.StationM) }),
		Depth:    bothWays(job, func(u geo.Units) string { return told.DepthLabel(u) }),
		Position: bothWays(job, func(u geo.Units) string { return told.PositionAlone(u) }),
		Doubt:    told.Doubt != nil,
	}
}

// listWidths tells where the caution zone changes its width, and whether any of its widths
// is no bound.
func listWidths(job geo.Units, l *trace.Line) (out []listedWidth, farther bool) {
	add := func(fromM, toM float64, right, left func(u geo.Units) string, doubt bool) {
		out = append(out, listedWidth{bothWays(job, func(u geo.Units) string { return words.Range(u, fromM, toM) }), bothWays(job, right), bothWays(job, left), doubt})
	}
	for _, z := range words.ZoneStretches(l) {
		farther = farther || z.Farther && !z.NoWidth()
		add(z.FromM, z.ToM, func(u geo.Units) string { return z.Width(u, z.RightM) }, func(u geo.Units) string { return z.Width(u, z.LeftM) }, z.NoWidth() || z.Doubt != nil)
	}
	return out, farther
}

func sentences(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = words.Sentence(t)
	}
	return out
}

// listedFinding is a finding as the page's lists tell it.
type listedFinding struct {
	Line, Index int
	Name        string
	Mark        string // which mark of the plan stands before it
	Title       both
	Words       []both
	Asks        bool // something is to be looked at
	finding     trace.Finding
}

func listFindings(s *trace.Sheet, i int) []listedFinding {
	var out []listedFinding
	for k, f := range pageFindings(s, &s.Lines[i]) {
		j := pageFinding(s.Job.Units, f)
		mark := j.Role
		if j.Role == finding.RoleBleedOver {
			mark += " " + j.Grade
		}
		out = append(out, listedFinding{i, k, f.OnLine(), mark, j.Title, j.Words, f.NeedsEyes() || advice.Undecided(f), f})
	}
	return out
}
