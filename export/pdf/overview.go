package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// overview is the whole job north up, with the sheets' extents, above the
// cautions and the table of lines.
type overview struct {
	*sheetSet
	*marker
	cautions *cautionBand
	sh       *drawnSheet
}

func (o *overview) draw() {
	r := o.lay.drawing
	bandMM := o.cautions.heightMM(r.W)
	table := lineTable{o.drawnJob, o.pencil}
	rows := table.rows()
	f := o.font(paper.Regular, 0.95)
	rowMM := float64(table.linesOfRows(r.W, rows))*f.LineMM() + 0.9
	most := max(1, int(r.H*0.35/rowMM))
	tableMM := headMM(f) + float64(min(len(rows), most))*rowMM + 1
	win := plan.Rect{X: r.X, Y: r.Y, W: r.W, H: r.H - bandMM - tableMM}.Inset(coordsMM)
	if view, ok := o.fitView(win, 7); ok {
		o.sh.scale = view.Scale
		newPlanView(o.sheetSet, o.marker, view, o.sh).drawLayers()
	} else {
		drawNoPlace(o.pencil, win)
	}
	if o.strips() == 0 {
		drawNoLine(o.pencil, o.s, win)
	}
	below := win.Bottom() + coordsMM
	o.cautions.draw(plan.Rect{X: r.X, Y: below, W: r.W, H: bandMM})
	table.draw(plan.Rect{X: r.X, Y: below + bandMM, W: r.W, H: tableMM}, rows, most, rowMM)
}
