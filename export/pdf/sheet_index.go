package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// sheetIndex lists the sheets of the set, in the column of the notes.
type sheetIndex struct {
	*sheetSet
	*pencil
}

func (x *sheetIndex) draw(r plan.Rect) {
	y := x.heading(r, "SHEETS OF THIS SET")
	f := x.font(paper.Regular, 0.92)
	var names []string
	if n := x.before.crew; n > 0 {
		names = append(names, sheetNumbers(1, n)+": crew sheet")
	}
	if n := x.before.stake; n > 0 && x.before.crew > 0 {
		names = append(names, sheetNumbers(x.before.crew+1, x.before.crew+n)+": stake-out table")
	}
	for i := range x.sheets {
		if x.sheets[i].panel != lowerHalf { // its page is named with the upper one
			names = append(names, x.sheetName(&x.sheets[i]))
		}
	}
	if n := x.before.stake; n > 0 && x.before.crew == 0 {
		names = append(names, sheetNumbers(x.pages()+1, x.pages()+n)+": stake-out table")
	}
	for i, name := range names {
		if y+2*f.LineMM() > r.Bottom() && i < len(names)-1 {
			x.c.Lines(r.X, y, []string{"and " + strconv.Itoa(len(names)-i) + " more"}, f)
			return
		}
		y = x.c.Lines(r.X, y, []string{x.c.Fit(name, f, r.W)}, f) + 0.3
	}
}

// sheetNumbers names one sheet or several on end.
func sheetNumbers(first, last int) string {
	if first == last {
		return "Sheet " + strconv.Itoa(first)
	}
	return "Sheets " + strconv.Itoa(first) + " to " + strconv.Itoa(last)
}
