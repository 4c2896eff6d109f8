package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/geo"
)

// drafter draws a sheet set. What the legend must explain is noted while a
// sheet is drawn.
type drafter struct {
	*sheetSet
	c     *paper.Canvas
	notes [][]noteBlock // by page and column
	used  map[sign]bool
	// numberWords says where a finding's number leads, where that is not the notes.
	numberWords string
	unplaced    []numbered // findings whose words found no room on the plan
	held        []geo.XY   // what an overview must hold, once it is known
}

func newDrafter(set *sheetSet) *drafter { return &drafter{sheetSet: set} }

func (d *drafter) font(face paper.Face, factor float64) paper.Font { return d.lay.font(face, factor) }

// thin and heavy are the two pens of frames and tables.
var (
	thinPen  = paper.Pen{WidthMM: 0.18, Color: paper.Black}
	heavyPen = paper.Pen{WidthMM: 0.5, Color: paper.Black}
)

func (d *drafter) sheet(sh *drawnSheet) {
	if sh.panel == lowerHalf {
		return // drawn with the upper one
	}
	d.used, d.unplaced = map[sign]bool{}, nil
	d.c.Page(d.sheetName(sh))
	switch sh.kind {
	case overviewSheet:
		d.overview(sh)
	case stripSheet:
		d.strip(sh)
	case notesSheet:
		d.notesPage(sh)
	}
	d.column(sh)
	d.c.Line(plan.Pt{X: d.lay.column.X, Y: d.lay.frame.Y}, plan.Pt{X: d.lay.column.X, Y: d.lay.frame.Bottom()}, heavyPen)
	d.c.Frame(d.lay.frame, paper.Pen{WidthMM: 0.7, Color: paper.Black})
}

// sheetName is the sheet in a few words.
func (d *drafter) sheetName(sh *drawnSheet) string {
	s := "Sheet " + strconv.Itoa(sh.no) + ": "
	switch sh.kind {
	case overviewSheet:
		return s + "overview"
	case notesSheet:
		return s + "notes"
	}
	for i, k := range d.onPage(sh) {
		if i > 0 {
			s += "; "
		}
		s += d.lines[k.line].Setup.Name + ", " + words.Range(d.u, k.strip.FromM, k.strip.ToM)
	}
	return s
}

// strip draws plan and profile of the stretches of a page, with the cautions
// between them.
func (d *drafter) strip(sh *drawnSheet) {
	bandMM := d.cautionsHeight(d.lay.drawing.W)
	r := d.lay.drawing
	for _, k := range d.onPage(sh) {
		d.heightsOf(k)
		view := d.viewOf(k)
		d.plan(view, k)
		d.profile(d.profileRect(k), view, k)
		if k.panel == wholePage {
			d.cautions(plan.Rect{X: r.X, Y: view.Window.Bottom() + coordsMM, W: r.W, H: bandMM})
		}
	}
	if sh.panel != wholePage {
		d.cautions(plan.Rect{X: r.X, Y: r.Y + (r.H-bandMM)/2, W: r.W, H: bandMM})
	}
}

// profileRect is the room of a strip's profile.
func (d *drafter) profileRect(sh *drawnSheet) plan.Rect {
	_, r := d.lay.panelOf(sh.panel, d.cautionsHeight(d.lay.drawing.W), sh.spareMM)
	return r
}

// viewOf is how a strip lies in its window.
func (d *drafter) viewOf(sh *drawnSheet) plan.View {
	win, _ := d.lay.panelOf(sh.panel, d.cautionsHeight(d.lay.drawing.W), sh.spareMM)
	return plan.View{Window: win, Scale: sh.scale, Center: sh.strip.Center, AngleRad: sh.strip.AngleRad}
}

// column fills the right-hand column, the title block at its foot and the
// checks at its head; legend and key plan share what is left.
func (d *drafter) column(sh *drawnSheet) {
	r := d.lay.column.Inset(1.6)
	top := d.titleBlock(r, sh)
	r.H = top - r.Y - 1.5
	if sh.kind == notesSheet {
		d.sheetIndex(r)
		return
	}
	legendH := d.legendHeight(r.W)
	legendTop := r.Bottom() - legendH
	d.legend(plan.Rect{X: r.X, Y: legendTop, W: r.W, H: legendH})
	r.H = legendTop - r.Y - 1.5
	if key := d.keyHeight(sh, r); key > 0 {
		d.key(plan.Rect{X: r.X, Y: r.Bottom() - key, W: r.W, H: key}, sh)
		r.H -= key + 1.5
	}
	d.checks(r, sh)
}

// heading sets the head of a block in the column and returns the y below it.
func (d *drafter) heading(r plan.Rect, s string) float64 {
	f := d.font(paper.Bold, 1)
	d.c.Lines(r.X, r.Y, []string{s}, f)
	y := r.Y + f.LineMM() + 0.3
	d.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
	return y + 0.8
}
