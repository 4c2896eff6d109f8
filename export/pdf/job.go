package pdf

import (
	"loamline.example/export/internal/plan"
	"loamline.example/export/stakeout"
	"loamline.example/export/station"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/closelines"
	"loamline.example/trace/finding"
)

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

// drawnJob is a job as the drawing needs it: what is drawn, whatever it is drawn on.
type drawnJob struct {
	s        *trace.Sheet
	u        geo.Units
	date     string
	lines    []drawnLine
	findings []numbered
	items    []trace.Advice // what to check, the most important first; the first has number 1
	close    []closelines.Pair
	fixed    []trace.Feature // what points are taped from
	held     []geo.XY        // what an overview must hold, once it is known
}

// numbered is a finding with the number that drawing, lists and notes share; 0 for
// what asks nothing of anybody.
type numbered struct {
	no   int
	line int
	trace.Finding
}

func newDrawnJob(s *trace.Sheet) *drawnJob {
	j := &drawnJob{s: s, u: s.Job.Units, date: words.JobDate(s)}
	if j.u != geo.US {
		j.u = geo.Metric
	}
	for i := range s.Lines {
		j.addLine(&s.Lines[i])
	}
	j.numberFindings()
	j.fixed = stakeout.TapedFrom(s)
	j.close = append(closelines.Find(s), closelines.Records(s)...)
	return j
}

func (j *drawnJob) addLine(l *trace.Line) {
	d := drawnLine{Line: l, style: style.Of(l.Setup.Utility)}
	if l.Centerline != nil {
		d.path = l.Centerline.Polyline()
	}
	d.box = boxOf(&d)
	j.lines = append(j.lines, d)
	for _, f := range l.Findings {
		if !j.known(f) {
			j.findings = append(j.findings, numbered{0, len(j.lines) - 1, f})
		}
	}
}

// known reports whether a crossing is already told from the other line's side.
func (j *drawnJob) known(f trace.Finding) bool {
	c, ok := f.(finding.Crossing)
	if !ok {
		return false
	}
	for _, n := range j.findings {
		if k, ok := n.Finding.(finding.Crossing); ok && !k.OnRecord() && !c.OnRecord() && k.Line == c.Other && k.Other == c.Line && k.At.Dist(c.At) < 0.5 {
			return true
		}
	}
	return false
}

// lineNamed returns the index of a line, or -1.
func (j *drawnJob) lineNamed(name string) int {
	for i := range j.lines {
		if j.lines[i].Setup.Name == name {
			return i
		}
	}
	return -1
}

func (j *drawnJob) allTraced() bool {
	for i := range j.lines {
		if !j.lines[i].traced() {
			return false
		}
	}
	return true
}
