package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// marker is the pencil that draws the signs of the map, and notes which, so that the
// legend explains whatever a page has.
type marker struct {
	*pencil
	used map[sign]bool
}

func newMarker(p *pencil) *marker { return &marker{p, map[sign]bool{}} }

func (m *marker) tickMark(at, dir plan.Pt) {
	n := dir.Normal().Scale(1.3)
	m.c.Line(at.Sub(n), at.Add(n), readingPen)
}

func (m *marker) crossMark(at plan.Pt) {
	p := paper.Pen{WidthMM: 0.25, Color: paper.Black}
	m.c.Line(at.Add(plan.Pt{X: -0.7, Y: -0.7}), at.Add(plan.Pt{X: 0.7, Y: 0.7}), p)
	m.c.Line(at.Add(plan.Pt{X: -0.7, Y: 0.7}), at.Add(plan.Pt{X: 0.7, Y: -0.7}), p)
}

// checkMark is a field check that is a mere fact; failedMark, for one that failed or could
// not tell, is seen from farther away.
func (m *marker) checkMark(at plan.Pt)  { m.triangle(at, 1, paper.White) }
func (m *marker) failedMark(at plan.Pt) { m.triangle(at, 1.5, paper.Black) }

func (m *marker) triangle(at plan.Pt, scale float64, fill paper.Color) {
	corner := func(x, y float64) plan.Pt { return at.Add(plan.Pt{X: x, Y: y}.Scale(scale)) }
	ring := [][]plan.Pt{{corner(0, -1.2), corner(1.1, 0.8), corner(-1.1, 0.8)}}
	m.c.Area(ring, fill)
	m.c.Rings(ring, paper.Pen{WidthMM: 0.25, Color: paper.Black})
}

func (m *marker) exposedMark(at plan.Pt) {
	m.c.Box(plan.Rect{X: at.X - 1.2, Y: at.Y - 1.2, W: 2.4, H: 2.4}, paper.Black)
	m.c.Box(plan.Rect{X: at.X - 0.5, Y: at.Y - 0.5, W: 1, H: 1}, paper.White)
}

func (m *marker) transmitterMark(at plan.Pt) {
	m.c.Disc(at, 1.5, paper.White, markPen)
	f := paper.Font{Face: paper.Bold, SizePt: 6}
	m.c.TextAlong(at, plan.Pt{X: 1}, "T", f)
}

func (m *marker) otherMark(at plan.Pt) {
	m.c.Disc(at, 1, paper.White, paper.Pen{WidthMM: 0.4, Color: paper.Black})
	m.c.Disc(at, 0.25, paper.Black, thinPen)
}

func (m *marker) fixedMark(at plan.Pt) {
	pen := paper.Pen{WidthMM: 0.2, Color: paper.Black}
	m.c.Disc(at, 0.75, paper.White, pen)
	m.c.Line(at.Sub(plan.Pt{X: 1.3}), at.Add(plan.Pt{X: 1.3}), pen)
	m.c.Line(at.Sub(plan.Pt{Y: 1.3}), at.Add(plan.Pt{Y: 1.3}), pen)
}

// travelMark is an arrowhead on the line.
func (m *marker) travelMark(at, dir plan.Pt) {
	n := dir.Normal().Scale(1.25)
	ring := [][]plan.Pt{{at.Add(dir.Scale(1.7)), at.Sub(dir.Scale(1.2)).Add(n), at.Sub(dir.Scale(1.2)).Sub(n)}}
	m.c.Area(ring, paper.White)
	m.c.Rings(ring, paper.Pen{WidthMM: 0.3, Color: paper.Black})
	m.used[signTravel] = true
}

// arrow draws a solid arrow.
func (m *marker) arrow(from, dir plan.Pt, lengthMM float64) {
	tip := from.Add(dir.Scale(lengthMM))
	neck := from.Add(dir.Scale(lengthMM - 1.8))
	n := dir.Normal()
	m.c.Line(from, neck, paper.Pen{WidthMM: 0.6, Color: paper.Black})
	m.c.Area([][]plan.Pt{{tip, neck.Add(n.Scale(1.1)), neck.Sub(n.Scale(1.1))}}, paper.Black)
}

func (m *marker) gridCross(at, dir plan.Pt) {
	n := dir.Normal()
	m.c.Line(at.Sub(dir.Scale(1.5)), at.Add(dir.Scale(1.5)), gridPen)
	m.c.Line(at.Sub(n.Scale(1.5)), at.Add(n.Scale(1.5)), gridPen)
}
