package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
)

type legendRow struct {
	sign  sign
	lines []string
}

// legend explains the signs that a page has.
type legend struct {
	*marker
	*drawnJob
	// numberWords says where a finding's number leads, where that is not the notes.
	numberWords string
	readPt      float64 // least size of what a crew reads, of a crew sheet alone
}

// sampleMM is the room of a sign before its words: less on a crew sheet, whose
// columns are narrow.
func (l *legend) sampleMM() float64 {
	if l.readPt > 0 {
		return 10.5
	}
	return 13
}

// rows are the signs that were drawn, each with its words.
func (l *legend) rows(widthMM float64) ([]legendRow, paper.Font) {
	f := l.font(paper.Regular, l.lay.small(0.86, 0.96))
	if l.readPt > 0 {
		f.SizePt = l.readPt
	}
	var rows []legendRow
	for s := signLine; s < signEnd; s++ {
		if !l.used[s] {
			continue
		}
		rows = append(rows, legendRow{s, l.c.Wrap(l.wordsFor(s), f, widthMM-l.sampleMM()-1.5)})
	}
	return rows, f
}

// wordsFor is what a legend says of a sign: on a crew sheet in its languages.
func (l *legend) wordsFor(s sign) string {
	switch {
	case l.readPt == 0:
		return l.wordsOf(s)
	case s == signCaution: // how wide it is has a table of its own
		return l.inBoth("caution zone: dig by hand or vacuum here too")
	}
	return l.inBoth(l.wordsOf(s))
}

// wordsOf is what a sign means.
func (l *legend) wordsOf(s sign) string {
	switch {
	case int(s) < len(style.All()):
		return style.All()[s].Name + " (" + style.All()[s].Code + ")"
	case s == signNumber && l.numberWords != "":
		return l.numberWords
	case s == signGrid && l.s.Output.CRS.Code != 0:
		return gridWords(l.s)
	case s == signGrid && l.noDatum():
		return "latitude and longitude, datum not stated, degrees"
	}
	return signWords[s]
}

func (l *legend) heightMM(widthMM float64) float64 {
	rows, f := l.rows(widthMM)
	if len(rows) == 0 {
		return 0
	}
	h := l.font(paper.Bold, 1).LineMM() + 1.1
	for _, r := range rows {
		h += float64(len(r.lines))*f.LineMM() + 0.6
	}
	return h
}

func (l *legend) draw(r plan.Rect) {
	rows, f := l.rows(r.W)
	if len(rows) == 0 {
		return
	}
	y := l.heading(r, "LEGEND")
	for _, row := range rows {
		l.sample(row.sign, plan.Rect{X: r.X, Y: y, W: l.sampleMM() - 1.5, H: f.LineMM()})
		y = l.c.Lines(r.X+l.sampleMM(), y, row.lines, f) + 0.6
	}
}

// across explains the signs of the plan across the page, in as many columns as take
// the least height, and returns it; it draws where it is told to.
func (l *legend) across(r plan.Rect, draw bool) float64 {
	best, least := 0, math.Inf(1)
	for _, columns := range []int{4, 5, 3} { // 4 where it makes no difference
		if h := l.acrossIn(columns, r, false); h < least-0.1 {
			best, least = columns, h
		}
	}
	if draw {
		l.acrossIn(best, r, true)
	}
	return least
}

func (l *legend) acrossIn(columns int, r plan.Rect, draw bool) float64 {
	colMM := (r.W - 3*float64(columns-1)) / float64(columns)
	rows, f := l.rows(colMM)
	total := 0.0
	high := func(row legendRow) float64 { return float64(len(row.lines))*f.LineMM() + 0.5 }
	for _, row := range rows {
		total += high(row)
	}
	// The columns hold a little more than their share, as rows are not broken.
	most := total / float64(columns)
	for {
		col, y := 0, 0.0
		for _, row := range rows {
			if y > 0 && y+high(row) > most {
				col, y = col+1, 0
			}
			y += high(row)
		}
		if col < columns {
			break
		}
		most += f.LineMM() / 2
	}
	col, y, tallest := 0, 0.0, 0.0
	for _, row := range rows {
		if y > 0 && y+high(row) > most {
			col, y = col+1, 0
		}
		if draw {
			x := r.X + float64(col)*(colMM+3)
			l.sample(row.sign, plan.Rect{X: x, Y: r.Y + y, W: l.sampleMM() - 1.5, H: f.LineMM()})
			l.c.Lines(x+l.sampleMM(), r.Y+y, row.lines, f)
		}
		y += high(row)
		tallest = math.Max(tallest, y)
	}
	if draw && len(rows) > 0 {
		l.c.Line(plan.Pt{X: r.X, Y: r.Y - 0.8}, plan.Pt{X: r.Right(), Y: r.Y - 0.8}, paper.Pen{WidthMM: 0.18, Color: paper.Black})
	}
	return tallest
}
