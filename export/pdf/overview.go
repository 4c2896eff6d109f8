package pdf

import (
	"slices"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/geo"
)

// overview draws the whole job north up, with the sheets' extents, above the
// cautions and the table of lines.
func (d *drafter) overview(sh *drawnSheet) {
	r := d.lay.drawing
	bandMM := d.cautionsHeight(r.W)
	rows := d.lineRows()
	f := d.font(paper.Regular, 0.95)
	rowMM := float64(d.linesOfRows(r.W, rows))*f.LineMM() + 0.9
	most := max(1, int(r.H*0.35/rowMM))
	tableMM := headMM(f) + float64(min(len(rows), most))*rowMM + 1
	win := plan.Rect{X: r.X, Y: r.Y, W: r.W, H: r.H - bandMM - tableMM}.Inset(coordsMM)
	if view, ok := d.fitView(win, 7); ok {
		sh.scale = view.Scale
		d.plan(view, sh)
	} else {
		d.nothing(win)
	}
	if d.strips() == 0 {
		d.nothingDrawn(win)
	}
	below := win.Bottom() + coordsMM
	d.cautions(plan.Rect{X: r.X, Y: below, W: r.W, H: bandMM})
	d.lineTable(plan.Rect{X: r.X, Y: below + bandMM, W: r.W, H: tableMM}, rows, most, rowMM)
}

// nothing says in the middle of an empty plan that there is no place to show.
func (d *drafter) nothing(win plan.Rect) {
	d.c.Frame(win, thinPen)
	d.c.Text(plan.Pt{X: win.Center().X, Y: win.Bottom() - 6}, "No reading of this job has a usable position.", d.font(paper.Regular, 1.2), paper.Middle)
}

// nothingDrawn says large that no line could be drawn.
func (d *drafter) nothingDrawn(win plan.Rect) {
	head, f := d.font(paper.Bold, 2.2), d.font(paper.Regular, 1.2)
	text := d.c.Wrap("The readings of this job do not support a line. "+words.Ledger(d.s.Counts)+
		". The notes tell why. This sheet says nothing about where lines are: do not dig by it.", f, win.W*0.7)
	h := head.LineMM() + float64(len(text))*f.LineMM() + 5
	box := plan.Rect{X: win.Center().X - win.W*0.37, Y: win.Y + 6, W: win.W * 0.74, H: h}
	d.c.Box(box, paper.White)
	d.c.Frame(box, heavyPen)
	d.c.Text(plan.Pt{X: box.Center().X, Y: box.Y + head.LineMM()}, "NO LINE COULD BE DRAWN", head, paper.Middle)
	for i, l := range text {
		d.c.Text(plan.Pt{X: box.Center().X, Y: box.Y + head.LineMM() + 2 + float64(i+1)*f.LineMM()}, l, f, paper.Middle)
	}
}

// medianPlace is the median of the coordinates, one by one.
func medianPlace(all []geo.XY) geo.XY {
	if len(all) == 0 {
		return geo.XY{}
	}
	xs, ys := make([]float64, len(all)), make([]float64, len(all))
	for i, q := range all {
		xs[i], ys[i] = q.X, q.Y
	}
	slices.Sort(xs)
	slices.Sort(ys)
	return geo.XY{X: xs[len(xs)/2], Y: ys[len(ys)/2]}
}
