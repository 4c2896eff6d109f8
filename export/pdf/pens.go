package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
	"loamline.example/trace"
)

// The pens of the drawing. Everything that is not a utility's line is black or
// grey, so that colour never has to be told apart for it.
var (
	tolerancePen = paper.Pen{WidthMM: 0.3, Color: paper.Black}
	cautionPen   = paper.Pen{WidthMM: 0.2, Color: paper.Gray(80), DashMM: []float64{0.9, 0.7}}
	cautionFill  = paper.Gray(232)
	gapPen       = paper.Pen{WidthMM: 0.35, Color: paper.Black, DashMM: []float64{2.2, 1.6}}
	markPen      = paper.Pen{WidthMM: 0.35, Color: paper.Black}
	stationPen   = paper.Pen{WidthMM: 0.3, Color: paper.Black}
	readingPen   = paper.Pen{WidthMM: 0.15, Color: paper.Black}
	recordPen    = paper.Pen{WidthMM: 0.2, Color: paper.Gray(90), DashMM: []float64{4, 0.8, 0.6, 0.8}}
	backdropPen  = paper.Pen{WidthMM: 0.13, Color: paper.Gray(140)}
	differsPen   = paper.Pen{WidthMM: 0.7, Color: paper.Gray(60), DashMM: []float64{0.7, 1.4}}
	matchPen     = paper.Pen{WidthMM: 0.6, Color: paper.Black, DashMM: []float64{6, 1.2, 1.2, 1.2}}
	sheetPen     = paper.Pen{WidthMM: 0.3, Color: paper.Black}
	gridPen      = paper.Pen{WidthMM: 0.15, Color: paper.Gray(110)}
	groundPen    = paper.Pen{WidthMM: 0.6, Color: paper.Black}
	bandPen      = paper.Pen{WidthMM: 0.15, Color: paper.Gray(90)}
	unheldPen    = paper.Pen{WidthMM: 0.3, Color: paper.Black, DashMM: []float64{1, 1.4}}
	bandFill     = paper.Gray(212)
	leaderPen    = paper.Pen{WidthMM: 0.15, Color: paper.Black}
)

// lineMM is the width of a line of weight 1 and casingMM its black edge, which
// keeps yellow visible on white and in grey.
const (
	lineMM   = 0.9
	casingMM = 0.18
)

// utilityLine draws a utility's line: black edges, its colour between them, its
// dash.
func (m *marker) utilityLine(runs [][]plan.Pt, st style.Style, weight float64) {
	w := lineMM * weight
	dash := make([]float64, len(st.Dash))
	for i, v := range st.Dash {
		dash[i] = v * w * 0.8
	}
	for _, run := range runs {
		m.c.Path(run, paper.Pen{WidthMM: w + 2*casingMM, Color: paper.Black, DashMM: dash})
		m.c.Path(run, paper.Pen{WidthMM: w, Color: paper.Hex(st.Hex), DashMM: dash})
	}
	if len(runs) > 0 {
		m.used[lineSign(st.Utility)] = true
	}
}

// codeOnLine writes the letter code into a gap of the line.
func (m *marker) codeOnLine(at, dir plan.Pt, st style.Style) {
	f := codeFont(st)
	m.plate(at, dir, m.c.Width(st.Code, f)+codeRimMM, codeHighMM)
	m.c.TextAlong(at, dir, st.Code, f)
}

func codeFont(st style.Style) paper.Font {
	return paper.Font{Face: paper.Bold, SizePt: 7.5, Color: paper.Hex(st.InkHex)}
}

// The clear ground about a letter code.
const codeRimMM, codeHighMM = 1.2, 2.2

// codeSize is the room that a letter code takes on a line of a direction.
func (m *marker) codeSize(dir plan.Pt, st style.Style) (wMM, hMM float64) {
	along := m.c.Width(st.Code, codeFont(st)) + codeRimMM
	w, h := math.Abs(dir.X)*along+math.Abs(dir.Y)*codeHighMM, math.Abs(dir.Y)*along+math.Abs(dir.X)*codeHighMM
	return math.Max(w, 5), math.Max(h, 4)
}

// hatch strokes a stretch across, broader to the one side or the other; closer
// and heavier the surer the suspicion.
func (m *marker) hatch(path []plan.Pt, leftMM, rightMM float64, g trace.Grade) {
	step, pen, s := 3.0, paper.Pen{WidthMM: 0.18, Color: paper.Black}, signBleedWatch
	switch g {
	case trace.GradeStrong:
		step, pen.WidthMM, s = 1.2, 0.38, signBleedStrong
	case trace.GradeSuspect:
		step, pen.WidthMM, s = 2, 0.26, signBleedSuspect
	}
	m.used[s] = true
	m.strokes(path, leftMM, rightMM, step, pen)
}

// strokes draws slanting strokes across a path.
func (m *marker) strokes(path []plan.Pt, leftMM, rightMM, step float64, pen paper.Pen) {
	w := plan.NewWalk(path)
	lean := (leftMM + rightMM) * 0.3
	for at := step / 2; at < w.Length(); at += step {
		p, dir := w.At(at)
		left, right := p.Sub(dir.Normal().Scale(leftMM)), p.Add(dir.Normal().Scale(rightMM))
		m.c.Line(right.Sub(dir.Scale(lean/2)), left.Add(dir.Scale(lean/2)), pen)
	}
}
