package export

import (
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/trace"
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
	differsPen   = paper.Pen{WidthMM: 0.7, Color: paper.Gray(60), DashMM: []float64{0.7, 1.4}}
	matchPen     = paper.Pen{WidthMM: 0.6, Color: paper.Black, DashMM: []float64{6, 1.2, 1.2, 1.2}}
	sheetPen     = paper.Pen{WidthMM: 0.3, Color: paper.Black}
	gridPen      = paper.Pen{WidthMM: 0.15, Color: paper.Gray(110)}
	groundPen    = paper.Pen{WidthMM: 0.6, Color: paper.Black}
	bandPen      = paper.Pen{WidthMM: 0.15, Color: paper.Gray(90)}
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
func (d *drafter) utilityLine(runs [][]plan.Pt, st Style, weight float64) {
	w := lineMM * weight
	dash := make([]float64, len(st.Dash))
	for i, v := range st.Dash {
		dash[i] = v * w * 0.8
	}
	for _, run := range runs {
		d.c.Path(run, paper.Pen{WidthMM: w + 2*casingMM, Color: paper.Black, DashMM: dash})
		d.c.Path(run, paper.Pen{WidthMM: w, Color: paper.Hex(st.Hex), DashMM: dash})
	}
	if len(runs) > 0 {
		d.used[lineSign(st.Utility)] = true
	}
}

// codeOnLine writes the letter code into a gap of the line.
func (d *drafter) codeOnLine(at, dir plan.Pt, st Style) {
	f := paper.Font{Face: paper.Bold, SizePt: 7.5, Color: paper.Hex(st.InkHex)}
	d.plate(at, dir, d.c.Width(st.Code, f)+1.2, 2.6)
	d.c.TextAlong(at, dir, st.Code, f)
}

// plate whitens a turned rectangle under a text.
func (d *drafter) plate(at, dir plan.Pt, wMM, hMM float64) {
	u, n := dir.Scale(wMM/2), dir.Normal().Scale(hMM/2)
	d.c.Area([][]plan.Pt{{at.Add(u).Add(n), at.Add(u).Sub(n), at.Sub(u).Sub(n), at.Sub(u).Add(n)}}, paper.White)
}

func (d *drafter) tickMark(at, dir plan.Pt) {
	n := dir.Normal().Scale(1.3)
	d.c.Line(at.Sub(n), at.Add(n), readingPen)
}

func (d *drafter) crossMark(at plan.Pt) {
	p := paper.Pen{WidthMM: 0.25, Color: paper.Black}
	d.c.Line(at.Add(plan.Pt{X: -0.7, Y: -0.7}), at.Add(plan.Pt{X: 0.7, Y: 0.7}), p)
	d.c.Line(at.Add(plan.Pt{X: -0.7, Y: 0.7}), at.Add(plan.Pt{X: 0.7, Y: -0.7}), p)
}

func (d *drafter) triangleMark(at plan.Pt, fill paper.Color) {
	ring := [][]plan.Pt{{at.Add(plan.Pt{Y: -1.2}), at.Add(plan.Pt{X: 1.1, Y: 0.8}), at.Add(plan.Pt{X: -1.1, Y: 0.8})}}
	d.c.Area(ring, fill)
	d.c.Rings(ring, paper.Pen{WidthMM: 0.25, Color: paper.Black})
}

func (d *drafter) exposedMark(at plan.Pt) {
	d.c.Box(plan.Rect{X: at.X - 1.2, Y: at.Y - 1.2, W: 2.4, H: 2.4}, paper.Black)
	d.c.Box(plan.Rect{X: at.X - 0.5, Y: at.Y - 0.5, W: 1, H: 1}, paper.White)
}

func (d *drafter) transmitterMark(at plan.Pt) {
	d.c.Disc(at, 1.5, paper.White, markPen)
	f := paper.Font{Face: paper.Bold, SizePt: 6}
	d.c.TextAlong(at, plan.Pt{X: 1}, "T", f)
}

func (d *drafter) otherMark(at plan.Pt) {
	d.c.Disc(at, 1, paper.White, paper.Pen{WidthMM: 0.4, Color: paper.Black})
	d.c.Disc(at, 0.25, paper.Black, thinPen)
}

// travelMark is an arrowhead on the line.
func (d *drafter) travelMark(at, dir plan.Pt) {
	n := dir.Normal().Scale(1.25)
	ring := [][]plan.Pt{{at.Add(dir.Scale(1.7)), at.Sub(dir.Scale(1.2)).Add(n), at.Sub(dir.Scale(1.2)).Sub(n)}}
	d.c.Area(ring, paper.White)
	d.c.Rings(ring, paper.Pen{WidthMM: 0.3, Color: paper.Black})
	d.used[signTravel] = true
}

// numberDisc writes a finding's number, white on black.
func (d *drafter) numberDisc(at plan.Pt, no int) {
	s := strconv.Itoa(no)
	f := paper.Font{Face: paper.Bold, SizePt: 6.5, Color: paper.White}
	d.c.Disc(at, discMM, paper.Black, thinPen)
	if len(s) > 2 {
		f.SizePt = 4.5
	}
	d.c.TextAlong(at, plan.Pt{X: 1}, s, f)
}

const discMM = 1.7

// arrow draws a solid arrow.
func (d *drafter) arrow(from, dir plan.Pt, lengthMM float64) {
	tip := from.Add(dir.Scale(lengthMM))
	neck := from.Add(dir.Scale(lengthMM - 1.8))
	n := dir.Normal()
	d.c.Line(from, neck, paper.Pen{WidthMM: 0.6, Color: paper.Black})
	d.c.Area([][]plan.Pt{{tip, neck.Add(n.Scale(1.1)), neck.Sub(n.Scale(1.1))}}, paper.Black)
}

// hatch strokes a stretch across, broader to the one side or the other; closer
// and heavier the surer the suspicion.
func (d *drafter) hatch(path []plan.Pt, leftMM, rightMM float64, g trace.Grade) {
	step, pen, s := 3.0, paper.Pen{WidthMM: 0.18, Color: paper.Black}, signBleedWatch
	switch g {
	case trace.GradeStrong:
		step, pen.WidthMM, s = 1.2, 0.38, signBleedStrong
	case trace.GradeSuspect:
		step, pen.WidthMM, s = 2, 0.26, signBleedSuspect
	}
	d.used[s] = true
	w := plan.NewWalk(path)
	lean := (leftMM + rightMM) * 0.3
	for at := step / 2; at < w.Length(); at += step {
		p, dir := w.At(at)
		left, right := p.Sub(dir.Normal().Scale(leftMM)), p.Add(dir.Normal().Scale(rightMM))
		d.c.Line(right.Sub(dir.Scale(lean/2)), left.Add(dir.Scale(lean/2)), pen)
	}
}
