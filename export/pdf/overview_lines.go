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

// lineShares are the columns' parts of the table, and depthColumn the one whose sentence
// has a date and what to do at its end: it is wrapped, never cut.
var lineShares = [...]float64{0.13, 0.15, 0.21, 0.08, 0.34, 0.09}

const depthColumn = 4

// linesOfRows is how many lines the longest depth of the table takes.
func (d *drafter) linesOfRows(widthMM float64, rows [][]string) int {
	most := 1
	for _, row := range rows {
		most = max(most, len(d.c.Wrap(row[depthColumn], d.font(paper.Regular, 0.95), lineShares[depthColumn]*(widthMM-2)-1.5)))
	}
	return most
}

// headMM is the height of the table's head.
func headMM(f paper.Font) float64 { return f.LineMM() + 0.9 }

func (d *drafter) lineTable(r plan.Rect, rows [][]string, most int, rowMM float64) {
	f, head := d.font(paper.Regular, 0.95), d.font(paper.Bold, 0.9)
	put := func(y float64, cells []string, f paper.Font) {
		x := r.X + 1.5
		for i, c := range cells {
			w := lineShares[i] * (r.W - 2)
			lines := []string{c}
			if i == depthColumn {
				lines = d.c.Wrap(c, f, w-1.5)
			} else {
				lines[0] = d.c.Fit(c, f, w-1.5)
			}
			d.c.Lines(x, y+0.5, lines, f)
			x += w
		}
	}
	put(r.Y, []string{"Line", "Utility", "As set up", "Traced", "Depth: an estimate", "Drawn on"}, head)
	for i, row := range rows {
		y := r.Y + headMM(f) + float64(i)*rowMM
		d.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
		if i == most-1 && len(rows) > most {
			put(y, []string{"and " + strconv.Itoa(len(rows)-i) + " more", "see the notes", "", "", "", ""}, head)
			return
		}
		put(y, row, f)
	}
}
