package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// lineRows is the table of lines: name, what, length, read depth, sheets.
func (d *drafter) lineRows() [][]string {
	var rows [][]string
	for i := range d.lines {
		l := &d.lines[i]
		row := []string{l.Setup.Name + " (" + l.style.Code + ")", l.style.Name, stated(words.Setup(d.u, l.Setup)), "not drawn", "no line could be fitted; see the notes", "–"}
		if l.traced() {
			row[3] = d.u.Long(l.Centerline.TracedM())
			row[4] = words.DepthRange(d.u, l.Line, d.date)
			row[5] = sheetsWords(l.first, l.last)
		}
		rows = append(rows, row)
	}
	return rows
}

func (d *drafter) lineTable(r plan.Rect, rows [][]string, most int, rowMM float64) {
	f, head := d.font(paper.Regular, 0.95), d.font(paper.Bold, 0.9)
	share := []float64{0.13, 0.15, 0.21, 0.08, 0.34, 0.09}
	put := func(y float64, cells []string, f paper.Font) {
		x := r.X + 1.5
		for i, c := range cells {
			w := share[i] * (r.W - 2)
			d.c.Lines(x, y+0.5, []string{d.c.Fit(c, f, w-1.5)}, f)
			x += w
		}
	}
	put(r.Y, []string{"Line", "Utility", "As set up", "Traced", "Depth: an estimate", "Drawn on"}, head)
	for i, row := range rows {
		y := r.Y + float64(i+1)*rowMM
		d.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
		if i == most-1 && len(rows) > most {
			put(y, []string{"and " + strconv.Itoa(len(rows)-i) + " more", "see the notes", "", "", "", ""}, head)
			return
		}
		put(y, row, f)
	}
}
