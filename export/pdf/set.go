package pdf

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/station"
	"loamline.example/export/style"
	"loamline.example/export/tongue"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/closelines"
	"loamline.example/trace/finding"
)

type sheetKind int

const (
	overviewSheet sheetKind = iota
	stripSheet
	notesSheet
	crewSheet
)

// drawnSheet is one page of the set.
type drawnSheet struct {
	kind  sheetKind
	no    int
	line  int // index into the set's lines, of a strip
	scale plan.Scale
	strip plan.Strip
	panel panel
	seq   int // of a strip on its line, from 0
	note  int // number of the notes page, from 0
	// spareMM is what a profile has no use for of its room, and the plan has instead.
	spareMM float64
}

// drawnLine is a line as the drawing needs it.
type drawnLine struct {
	*trace.Line
	style style.Style
	path  geo.Polyline // empty where nothing was fitted
	first int          // its first and last sheet
	last  int
	// heights is the scale of heights of all its profiles, 0 until one is drawn.
	heights plan.Scale
	box     groundBox // of the line and its zones
}

// traced reports whether there is a line to draw: one without length is none.
func (l *drawnLine) traced() bool { return l.path.Length() > 0.01 }

// sheetSet is the plan of all pages.
type sheetSet struct {
	s        *trace.Sheet
	u        geo.Units
	date     string
	lay      sheetLayout
	paper    Paper
	lines    []drawnLine
	sheets   []drawnSheet
	findings []numbered
	items    []trace.Advice // what to check, the most important first; the first has number 1
	close    []closelines.Pair
	ruler    *paper.Canvas // measures text before there are pages
	asked    func() error  // why nothing is drawn any more, if so; nil asks nobody
	printed  string        // trace.SheetsCrew, SheetsFull or SheetsBoth
	given    Paper         // as asked for; "" is the job's choice
	tongue   *tongue.Speaker
	before   *leading // pages before the set, and how many there are in all
}

// leading counts the pages that are printed beside the plan and profile set: all
// pages of a print have one numbering.
type leading struct{ crew, stake, set int }

// prints reports whether one of both kinds of sheet is wanted.
func (set *sheetSet) prints(kind string) bool {
	return set.printed == trace.SheetsBoth || set.printed == kind
}

// speak makes a canvas speak the job's language.
func (set *sheetSet) speak(c *paper.Canvas) {
	if set.tongue != nil {
		c.Speak(set.tongue.Code(), set.tongue.Say)
	}
}

// numbered is a finding with the number that drawing, lists and notes share; 0 for
// what asks nothing of anybody.
type numbered struct {
	no   int
	line int
	trace.Finding
}

func newSheetSet(s *trace.Sheet, opt Options) (*sheetSet, error) {
	if s == nil {
		return nil, errors.New("no sheet to print")
	}
	if opt.Scale < 0 || math.IsNaN(opt.Scale) || math.IsInf(opt.Scale, 0) {
		return nil, fmt.Errorf("a drawing scale of 1:%v cannot be drawn: give its denominator, such as 200", opt.Scale)
	}
	if _, err := ParsePaper(string(opt.Paper)); err != nil {
		return nil, err
	}
	set := &sheetSet{s: s, u: s.Job.Units, date: words.JobDate(s), ruler: paper.New(100, 100, paper.Info{})}
	if set.u != geo.US {
		set.u = geo.Metric
	}
	set.tongue, set.before = tongue.For(s), &leading{}
	set.speak(set.ruler)
	set.asked = opt.asked
	set.printed, set.given = cmp.Or(opt.Sheets, s.Job.Sheets, trace.SheetsBoth), opt.Paper
	if !slices.Contains([]string{trace.SheetsCrew, trace.SheetsFull, trace.SheetsBoth}, set.printed) {
		return nil, fmt.Errorf("%q is not a choice of sheets: use crew, full or both", set.printed)
	}
	for i := range s.Lines {
		set.addLine(&s.Lines[i])
	}
	set.numberFindings()
	set.close = append(closelines.Find(s), closelines.Records(s)...)
	set.choosePaper(opt)
	return set, nil
}

func (set *sheetSet) addLine(l *trace.Line) {
	d := drawnLine{Line: l, style: style.Of(l.Setup.Utility)}
	if l.Centerline != nil {
		d.path = l.Centerline.Polyline()
	}
	d.box = boxOf(&d)
	set.lines = append(set.lines, d)
	for _, f := range l.Findings {
		if !set.known(f) {
			set.findings = append(set.findings, numbered{0, len(set.lines) - 1, f})
		}
	}
}

// known reports whether a crossing is already told from the other line's side.
func (set *sheetSet) known(f trace.Finding) bool {
	c, ok := f.(finding.Crossing)
	if !ok {
		return false
	}
	for _, n := range set.findings {
		if k, ok := n.Finding.(finding.Crossing); ok && !k.OnRecord() && !c.OnRecord() && k.Line == c.Other && k.Other == c.Line && k.At.Dist(c.At) < 0.5 {
			return true
		}
	}
	return false
}

// lineNamed returns the index of a line, or -1.
func (set *sheetSet) lineNamed(name string) int {
	for i := range set.lines {
		if set.lines[i].Setup.Name == name {
			return i
		}
	}
	return -1
}

// at returns what is known of a line at a station; false where it is not traced.
func (l *drawnLine) at(stationM float64) (trace.Vertex, bool) {
	if l.Centerline == nil {
		return trace.Vertex{}, false
	}
	for _, p := range l.Centerline.Parts {
		if len(p.Vertices) > 0 && stationM >= p.FromM()-1e-6 && stationM <= p.ToM()+1e-6 {
			return station.At(p, stationM), true
		}
	}
	return trace.Vertex{}, false
}

// depthAt returns the read depth of a line and its band at a station, Unknown
// where the line is not traced or no depth was read.
func (l *drawnLine) depthAt(stationM float64) (depthM, depth95M float64) {
	if v, ok := l.at(stationM); ok {
		return v.DepthM, v.Depth95M
	}
	return trace.Unknown, trace.Unknown
}
