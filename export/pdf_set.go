package export

import (
	"errors"
	"fmt"
	"math"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
	"loamline/trace"
)

type sheetKind int

const (
	overviewSheet sheetKind = iota
	stripSheet
	notesSheet
)

// drawnSheet is one page of the set.
type drawnSheet struct {
	kind  sheetKind
	no    int
	line  int // index into the set's lines, of a strip
	scale plan.Scale
	strip plan.Strip
	note  int // number of the notes page, from 0
}

// drawnLine is a line as the drawing needs it.
type drawnLine struct {
	*trace.Line
	style Style
	path  geo.Polyline // empty where nothing was fitted
	first int          // its first and last sheet
	last  int
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
	ruler    *paper.Canvas // measures text before there are pages
}

// numbered is a finding with the number that the drawing and the notes share.
type numbered struct {
	no   int
	line int
	trace.Finding
}

func newSheetSet(s *trace.Sheet, opt PDFOptions) (*sheetSet, error) {
	if s == nil {
		return nil, errors.New("no sheet to print")
	}
	if opt.Scale < 0 || math.IsNaN(opt.Scale) || math.IsInf(opt.Scale, 0) {
		return nil, fmt.Errorf("a drawing scale of 1:%v cannot be drawn: give its denominator, such as 200", opt.Scale)
	}
	if _, err := ParsePaper(string(opt.Paper)); err != nil {
		return nil, err
	}
	set := &sheetSet{s: s, u: s.Job.Units, date: JobDate(s), ruler: paper.New(100, 100, paper.Info{})}
	if set.u != geo.US {
		set.u = geo.Metric
	}
	for i := range s.Lines {
		set.addLine(&s.Lines[i])
	}
	set.choosePaper(opt)
	return set, nil
}

func (set *sheetSet) addLine(l *trace.Line) {
	d := drawnLine{Line: l, style: StyleOf(l.Setup.Utility)}
	if l.Centerline != nil {
		d.path = l.Centerline.Polyline()
	}
	set.lines = append(set.lines, d)
	for _, f := range l.Findings {
		if !set.known(f) {
			set.findings = append(set.findings, numbered{len(set.findings) + 1, len(set.lines) - 1, f})
		}
	}
}

// known reports whether a crossing is already told from the other line's side.
func (set *sheetSet) known(f trace.Finding) bool {
	c, ok := f.(trace.Crossing)
	if !ok {
		return false
	}
	for _, n := range set.findings {
		if k, ok := n.Finding.(trace.Crossing); ok && k.Line == c.Other && k.Other == c.Line && k.At.Dist(c.At) < 0.5 {
			return true
		}
	}
	return false
}

// fewSheets is how many strips a job may have on the smaller paper before the
// larger one is taken.
const fewSheets = 3

func (set *sheetSet) choosePaper(opt PDFOptions) {
	small, large := papers(set.u)
	set.paper = opt.Paper
	if opt.Paper == "" {
		set.paper = small
	}
	set.cut(opt)
	if opt.Paper == "" && len(set.sheets) > fewSheets {
		set.paper = large
		set.cut(opt)
	}
	set.number()
}

// cut lays the strips of every line.
func (set *sheetSet) cut(opt PDFOptions) {
	set.lay, set.sheets = layoutOf(set.paper), nil
	win := set.lay.window(set.bandMM())
	for i := range set.lines {
		l := &set.lines[i]
		if !l.traced() {
			continue
		}
		room := plan.Room{WidthMM: win.W - 2*endsMM, HeightMM: win.H - 6, PadM: set.padM(l), StepM: stripStepM(set.u)}
		scale := plan.Scale(opt.Scale)
		var strips []plan.Strip
		if scale > 0 {
			strips = plan.Strips(l.path, scale, room)
		} else {
			scale, strips = plan.ChooseScale(set.u, l.path, room)
		}
		for _, st := range strips {
			set.sheets = append(set.sheets, drawnSheet{kind: stripSheet, line: i, scale: scale, strip: st})
		}
	}
}

// bandMM measures the caution band of the chosen paper.
func (set *sheetSet) bandMM() float64 {
	d := &drafter{sheetSet: set, c: set.ruler}
	return d.cautionsHeight(set.lay.drawing.W)
}

// padM is the ground beside a line that its sheet must show: its caution zone.
func (set *sheetSet) padM(l *drawnLine) float64 {
	pad := 1.0
	if h := l.Tolerance.HalfWidthM; trace.Known(h) && h > 0 && h < 10 {
		pad = h + 0.5
	}
	return pad
}

func stripStepM(u geo.Units) float64 {
	if u == geo.US {
		return 5 * geo.FootM
	}
	return 1
}

// number puts the overview in front where it is wanted and numbers the sheets.
func (set *sheetSet) number() {
	if len(set.sheets) != 1 || !set.allTraced() {
		set.sheets = append([]drawnSheet{{kind: overviewSheet, line: -1}}, set.sheets...)
	}
	for i := range set.sheets {
		sh := &set.sheets[i]
		sh.no = i + 1
		if sh.kind != stripSheet {
			continue
		}
		l := &set.lines[sh.line]
		if l.first == 0 {
			l.first = sh.no
		}
		l.last = sh.no
	}
}

func (set *sheetSet) allTraced() bool {
	for i := range set.lines {
		if !set.lines[i].traced() {
			return false
		}
	}
	return true
}

// strips counts the drawings in the set.
func (set *sheetSet) strips() int {
	n := 0
	for _, sh := range set.sheets {
		if sh.kind == stripSheet {
			n++
		}
	}
	return n
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
			return profileAt(p, stationM), true
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
