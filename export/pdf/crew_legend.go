package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// crewLegendColumns is in how many columns a crew sheet explains its signs.
const crewLegendColumns = 4

// crewLegend explains the signs of the plan across the page, and returns its
// height; it draws where it is told to.
func (d *drafter) crewLegend(r plan.Rect, draw bool) float64 {
	colMM := (r.W - 3*(crewLegendColumns-1)) / crewLegendColumns
	rows, f := d.legendRows(colMM)
	total := 0.0
	high := func(row legendRow) float64 { return float64(len(row.lines))*f.LineMM() + 0.5 }
	for _, row := range rows {
		total += high(row)
	}
	// The columns hold a little more than their share, as rows are not broken.
	most := total / crewLegendColumns
	for {
		col, y := 0, 0.0
		for _, row := range rows {
			if y > 0 && y+high(row) > most {
				col, y = col+1, 0
			}
			y += high(row)
		}
		if col < crewLegendColumns {
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
