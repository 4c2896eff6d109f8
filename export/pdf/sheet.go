package pdf

import (
	"maps"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// drafter draws all pages of a print on one canvas.
type drafter struct {
	*sheetSet
	*pencil
	notes *noteBook
}

func newDrafter(set *sheetSet) *drafter {
	r := set.ruler
	c := paper.New(r.lay.page.W, r.lay.page.H, pdfInfo(set.s, r.tongue))
	return &drafter{sheetSet: set, pencil: newPencil(c, r.lay, r.tongue, r.asked)}
}

// sheet draws a page of the set.
func (d *drafter) sheet(sh *drawnSheet) {
	if sh.panel == lowerHalf {
		return // drawn with the upper one
	}
	d.c.Page(d.sheetName(sh))
	p := &sheetPage{stripRooms: stripRooms{d.sheetSet, newCautionBand(d.pencil, d.s)}, marker: newMarker(d.pencil), sh: sh, told: map[int]bool{}}
	switch sh.kind {
	case overviewSheet:
		whole := overview{d.sheetSet, p.marker, p.cautions, sh}
		whole.draw()
	case stripSheet:
		p.drawStrips()
	case notesSheet:
		d.notes.page(sh)
	}
	p.column()
	d.c.Line(plan.Pt{X: d.lay.column.X, Y: d.lay.frame.Y}, plan.Pt{X: d.lay.column.X, Y: d.lay.frame.Bottom()}, heavyPen)
	d.c.Frame(d.lay.frame, paper.Pen{WidthMM: 0.7, Color: paper.Black})
}

// sheetPage is a page of the set while it is drawn: it shares the page out among its areas.
type sheetPage struct {
	stripRooms
	*marker
	sh   *drawnSheet
	told map[int]bool // numbers of the findings on its plans
}

// drawStrips draws plan and profile of the stretches of a page, with the cautions
// between them.
func (p *sheetPage) drawStrips() {
	bandMM := p.cautions.heightMM(p.lay.drawing.W)
	r := p.lay.drawing
	for _, k := range p.onPage(p.sh) {
		p.heightsOf(k)
		view := p.viewOf(k)
		shown := newPlanView(p.sheetSet, p.marker, view, k)
		shown.drawLayers()
		maps.Copy(p.told, shown.told)
		newProfileDrawing(&p.stripRooms, p.marker, p.profileRect(k), view, k).draw()
		if k.panel == wholePage {
			p.cautions.draw(plan.Rect{X: r.X, Y: view.Window.Bottom() + coordsMM, W: r.W, H: bandMM})
		}
	}
	if p.sh.panel != wholePage {
		p.cautions.draw(plan.Rect{X: r.X, Y: r.Y + (r.H-bandMM)/2, W: r.W, H: bandMM})
	}
}

// leastChecksMM is what the checks have of the column before a key plan has anything: the
// heading, three items of two lines and where the others are. Judgement.
const leastChecksMM = 26

// column fills the right-hand column, the title block at its foot and the
// checks at its head; legend and key plan share what is left.
func (p *sheetPage) column() {
	r := p.lay.column.Inset(1.6)
	title := titleBlock{p.sheetSet, p.pencil, p.sh}
	top := title.draw(r)
	r.H = top - r.Y - 1.5
	if p.sh.kind == notesSheet {
		index := sheetIndex{p.sheetSet, p.pencil}
		index.draw(r)
		return
	}
	signs := legend{marker: p.marker, drawnJob: p.drawnJob}
	legendH := signs.heightMM(r.W)
	legendTop := r.Bottom() - legendH
	signs.draw(plan.Rect{X: r.X, Y: legendTop, W: r.W, H: legendH})
	r.H = legendTop - r.Y - 1.5
	key := keyPlan{stripRooms: p.stripRooms, pencil: p.pencil, sh: p.sh}
	if h := key.heightMM(r); h > 0 && r.H-h >= leastChecksMM {
		key.draw(plan.Rect{X: r.X, Y: r.Bottom() - h, W: r.W, H: h})
		r.H -= h + 1.5
	}
	checks := checkColumn{p.sheetSet, p.pencil, p.sh, p.told}
	checks.draw(r)
}
