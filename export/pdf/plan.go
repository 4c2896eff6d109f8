package pdf

import (
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// planView is one plan on one sheet while it is drawn.
type planView struct {
	*drafter
	plan.View
	board *plan.Board
	sh    *drawnSheet
	clip  plan.Rect // a little more than the window
}

// plan draws everything of the job that falls into a window.
func (d *drafter) plan(view plan.View, sh *drawnSheet) {
	p := &planView{d, view, plan.NewBoard(view.Window.Inset(0.8)), sh, view.Window.Inset(-5)}
	d.c.Clip(view.Window, func() {
		for _, layer := range []func(){p.zones, p.underlay, p.gridCrosses, p.backdrop, p.records, p.compass, p.suspects,
			p.keepMarks, p.centerlines, p.matchLines, p.sheetTags, p.stations, p.readings, p.transmitters,
			p.crossings, p.exposures, p.checksFailed, p.findingLabels, p.names, p.recordNames} {
			p.goOn()
			layer()
		}
	})
	p.coordinates()
	d.c.Frame(view.Window, thinPen)
}

// strip reports whether the plan is one of a line's strips.
func (p *planView) strip() bool { return p.sh.kind == stripSheet }

// inside reports whether a place lies in the window, some way from its sides.
func (p *planView) inside(q plan.Pt, marginMM float64) bool {
	return q.Finite() && p.Window.Inset(marginMM).Contains(q)
}

// runs returns what a window shows of a path on the ground.
func (p *planView) runs(path []geo.XY) [][]plan.Pt {
	return plan.ClipPath(plan.Thin(p.Path(path), thinMM), p.clip)
}

// thinMM is the least distance between the points of a drawn path: a quarter of
// the thinnest pen.
const thinMM = 0.04

// transmitters marks where the signal was put on.
func (p *planView) transmitters() {
	for _, l := range p.lines {
		if l.Setup.Transmitter == nil {
			continue
		}
		if at := p.Paper(p.s.Plane.XY(*l.Setup.Transmitter)); p.inside(at, 2) {
			p.transmitterMark(at)
			p.board.Take(plan.Rect{X: at.X - 2, Y: at.Y - 2, W: 4, H: 4})
			p.used[signTransmitter] = true
		}
	}
}
