package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// keyHeight is the room for the key plan: none where there is but one drawing.
func (d *drafter) keyHeight(sh *drawnSheet, r plan.Rect) float64 {
	if sh.kind != stripSheet || d.strips() < 2 {
		return 0
	}
	return math.Max(18, math.Min(r.W*0.5, r.H*0.4))
}

// key draws all lines small, north up; this sheet's stretch stands out and its
// window is grey.
func (d *drafter) key(r plan.Rect, sh *drawnSheet) {
	y := d.heading(r, "KEY PLAN, north up")
	win := plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	view, ok := d.fitView(win, 4)
	if !ok {
		return
	}
	w, h, _ := plan.Bounds(d.extent(), 0)
	in := win.Inset(5)
	// A key needs no round scale: it is not measured.
	view.Scale = plan.Scale(math.Max(1, 1000*math.Max(w/in.W, h/in.H)))
	p := &planView{drafter: d, View: view, sh: &drawnSheet{kind: overviewSheet}, board: plan.NewBoard(win.Inset(0.8)), clip: win.Inset(-2)}
	d.c.Clip(win, func() {
		here := d.onPage(sh)
		for _, k := range here {
			d.c.Area([][]plan.Pt{p.sheetRing(k)}, paper.Gray(222))
		}
		for i := range d.lines {
			for _, run := range p.runs(d.lines[i].path.Points) {
				d.c.Path(run, paper.Pen{WidthMM: 0.3, Color: paper.Black})
				p.board.Ink(run, 1)
			}
		}
		for _, k := range here {
			for _, run := range p.runs(d.lines[k.line].path.Slice(k.strip.FromM, k.strip.ToM)) {
				d.c.Path(run, paper.Pen{WidthMM: 1.1, Color: paper.Black})
				p.board.Ink(run, 3)
			}
		}
		p.keyNumbers(sh)
	})
	d.c.Frame(win, thinPen)
}

// sheetRing is the outline of a strip's window.
func (p *planView) sheetRing(sh *drawnSheet) []plan.Pt {
	v := p.viewOf(sh)
	var ring []plan.Pt
	for _, q := range v.Corners() {
		ring = append(ring, p.Paper(q))
	}
	return ring
}

// keyNumbers numbers the strips, this sheet's first.
func (p *planView) keyNumbers(sh *drawnSheet) {
	for pass := range 2 {
		for i := range p.sheets {
			k := &p.sheets[i]
			if k.kind != stripSheet || (k.no == sh.no) != (pass == 0) {
				continue
			}
			f := p.font(paper.Regular, 0.8)
			if k.no == sh.no {
				f = p.font(paper.Bold, 1.1)
			}
			s := strconv.Itoa(k.no)
			mid := p.lines[k.line].path.At((k.strip.FromM + k.strip.ToM) / 2)
			if at, _, ok := p.board.Place([]plan.Pt{p.Paper(mid)}, p.c.Width(s, f)+0.6, f.SizePt*0.28+0.4, 0.8, 6); ok {
				p.c.Text(plan.Pt{X: at.X + 0.3, Y: at.Bottom() - 0.2}, s, f, paper.Left)
			}
		}
	}
}
