package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// crewLegend explains the signs of the plan across the page, in as many columns as take
// the least height, and returns it; it draws where it is told to.
func (d *drafter) crewLegend(r plan.Rect, draw bool) float64 {
	best, least := 0, math.Inf(1)
	for _, columns := range []int{4, 5, 3} { // 4 where it makes no difference
		if h := d.crewLegendIn(columns, r, false); h < least-0.1 {
			best, least = columns, h
		}
	}
	if draw {
		d.crewLegendIn(best, r, true)
	}
	return least
}

func (d *drafter) crewLegendIn(columns int, r plan.Rect, draw bool) float64 {
	colMM := (r.W - 3*float64(columns-1)) / float64(columns)
	rows, f := d.legendRows(colMM)
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
			d.sample(row.sign, plan.Rect{X: x, Y: r.Y + y, W: d.legendSampleMM() - 1.5, H: f.LineMM()})
			d.c.Lines(x+d.legendSampleMM(), r.Y+y, row.lines, f)
		}
		y += high(row)
		tallest = math.Max(tallest, y)
	}
	if draw && len(rows) > 0 {
		d.c.Line(plan.Pt{X: r.X, Y: r.Y - 0.8}, plan.Pt{X: r.Right(), Y: r.Y - 0.8}, paper.Pen{WidthMM: 0.18, Color: paper.Black})
	}
	return tallest
}
