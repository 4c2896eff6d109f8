package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

func (d *drafter) tickMark(at, dir plan.Pt) {
	n := dir.Normal().Scale(1.3)
	d.c.Line(at.Sub(n), at.Add(n), readingPen)
}

func (d *drafter) crossMark(at plan.Pt) {
	p := paper.Pen{WidthMM: 0.25, Color: paper.Black}
	d.c.Line(at.Add(plan.Pt{X: -0.7, Y: -0.7}), at.Add(plan.Pt{X: 0.7, Y: 0.7}), p)
	d.c.Line(at.Add(plan.Pt{X: -0.7, Y: 0.7}), at.Add(plan.Pt{X: 0.7, Y: -0.7}), p)
}

// checkMark is a field check that is a mere fact; failedMark, for one that failed or could
// not tell, is seen from farther away.
func (d *drafter) checkMark(at plan.Pt)  { d.triangle(at, 1, paper.White) }
func (d *drafter) failedMark(at plan.Pt) { d.triangle(at, 1.5, paper.Black) }

func (d *drafter) triangle(at plan.Pt, scale float64, fill paper.Color) {
	corner := func(x, y float64) plan.Pt { return at.Add(plan.Pt{X: x, Y: y}.Scale(scale)) }
	ring := [][]plan.Pt{{corner(0, -1.2), corner(1.1, 0.8), corner(-1.1, 0.8)}}
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
