package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// lineTable is the table of lines of an overview.
type lineTable struct {
	*drawnJob
	*pencil
}

// rows are one a line: name, what, length, read depth, sheets.
func (t *lineTable) rows() [][]string {
	var rows [][]string
	for i := range t.lines {
		l := &t.lines[i]
		row := []string{l.Setup.Name + " (" + l.style.Code + ")", l.style.Name, stated(words.Setup(t.u, l.Setup)), "not drawn", "no line could be fitted; see the notes", "–"}
		if l.traced() {
			row[3] = t.u.Long(l.Centerline.TracedM())
			row[4] = words.DepthRange(t.u, l.Line, t.date)
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
func (t *lineTable) linesOfRows(widthMM float64, rows [][]string) int {
	most := 1
	for _, row := range rows {
		most = max(most, len(t.c.Wrap(row[depthColumn], t.font(paper.Regular, 0.95), lineShares[depthColumn]*(widthMM-2)-1.5)))
	}
	return most
}

// headMM is the height of the table's head.
func headMM(f paper.Font) float64 { return f.LineMM() + 0.9 }

func (t *lineTable) draw(r plan.Rect, rows [][]string, most int, rowMM float64) {
	f, head := t.font(paper.Regular, 0.95), t.font(paper.Bold, 0.9)
	put := func(y float64, cells []string, f paper.Font) {
		x := r.X + 1.5
		for i, c := range cells {
			w := lineShares[i] * (r.W - 2)
			lines := []string{c}
			if i == depthColumn {
				lines = t.c.Wrap(c, f, w-1.5)
			} else {
				lines[0] = t.c.Fit(c, f, w-1.5)
			}
			t.c.Lines(x, y+0.5, lines, f)
			x += w
		}
	}
	put(r.Y, []string{"Line", "Utility", "As set up", "Traced", "Depth: an estimate", "Drawn on"}, head)
	for i, row := range rows {
		y := r.Y + headMM(f) + float64(i)*rowMM
		t.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
		if i == most-1 && len(rows) > most {
			put(y, []string{"and " + strconv.Itoa(len(rows)-i) + " more", "see the notes", "", "", "", ""}, head)
			return
		}
		put(y, row, f)
	}
}
