package pdf

import (
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/export/words"
	"loamline/geo"
)

// drafter draws a sheet set. What the legend must explain is noted while a
// sheet is drawn.
type drafter struct {
	*sheetSet
	c        *paper.Canvas
	notes    [][]noteBlock // by page and column
	used     map[sign]bool
	unplaced []numbered // findings whose words found no room on the plan
	held     []geo.XY   // what an overview must hold, once it is known
}

func newDrafter(set *sheetSet) *drafter { return &drafter{sheetSet: set} }

func (d *drafter) font(face paper.Face, factor float64) paper.Font { return d.lay.font(face, factor) }

// thin and heavy are the two pens of frames and tables.
var (
	thinPen  = paper.Pen{WidthMM: 0.18, Color: paper.Black}
	heavyPen = paper.Pen{WidthMM: 0.5, Color: paper.Black}
)

func (d *drafter) sheet(sh *drawnSheet) {
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
	return s + d.lines[sh.line].Setup.Name + ", " + words.Range(d.u, sh.strip.FromM, sh.strip.ToM)
}

// strip draws plan, cautions and profile of one stretch.
func (d *drafter) strip(sh *drawnSheet) {
	r := d.lay.drawing
	bandMM := d.cautionsHeight(r.W)
	win := d.lay.window(bandMM)
	view := plan.View{Window: win, Scale: sh.scale, Center: sh.strip.Center, AngleRad: sh.strip.AngleRad}
	d.plan(view, sh)
	below := win.Bottom() + coordsMM
	d.cautions(plan.Rect{X: r.X, Y: below, W: r.W, H: bandMM})
	d.profile(plan.Rect{X: r.X, Y: below + bandMM, W: r.W, H: r.Bottom() - below - bandMM}, view, sh)
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
