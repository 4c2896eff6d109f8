package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
)

type legendRow struct {
	sign  sign
	lines []string
}

// legendSampleMM is the room of a sign before its words: less on a crew sheet, whose
// columns are narrow.
func (d *drafter) legendSampleMM() float64 {
	if d.lay.readPt > 0 {
		return 10.5
	}
	return 13
}

func (d *drafter) legendRows(widthMM float64) ([]legendRow, paper.Font) {
	f := d.font(paper.Regular, d.lay.small(0.86, 0.96))
	if d.lay.readPt > 0 {
		f.SizePt = d.lay.readPt
	}
	var rows []legendRow
	for s := signLine; s < signEnd; s++ {
		if !d.used[s] {
			continue
		}
		rows = append(rows, legendRow{s, d.c.Wrap(d.legendWords(s), f, widthMM-d.legendSampleMM()-1.5)})
	}
	return rows, f
}

// legendWords is what a legend says of a sign: on a crew sheet in its languages.
func (d *drafter) legendWords(s sign) string {
	switch {
	case d.lay.readPt == 0:
		return d.wordsOf(s)
	case s == signCaution: // how wide it is has a table of its own
		return d.inBoth("caution zone: dig by hand or vacuum here too")
	}
	return d.inBoth(d.wordsOf(s))
}

// wordsOf is what a sign means.
func (d *drafter) wordsOf(s sign) string {
	switch {
	case int(s) < len(style.All()):
		return style.All()[s].Name + " (" + style.All()[s].Code + ")"
	case s == signNumber && d.numberWords != "":
		return d.numberWords
	case s == signGrid && d.s.Output.CRS.Code != 0:
		return gridWords(d.s)
	case s == signGrid && d.noDatum():
		return "latitude and longitude, datum not stated, degrees"
	}
	return signWords[s]
}

func (d *drafter) legendHeight(widthMM float64) float64 {
	rows, f := d.legendRows(widthMM)
	if len(rows) == 0 {
		return 0
	}
	h := d.font(paper.Bold, 1).LineMM() + 1.1
	for _, r := range rows {
		h += float64(len(r.lines))*f.LineMM() + 0.6
	}
	return h
}

func (d *drafter) legend(r plan.Rect) {
	rows, f := d.legendRows(r.W)
	if len(rows) == 0 {
		return
	}
	y := d.heading(r, "LEGEND")
	for _, row := range rows {
		d.sample(row.sign, plan.Rect{X: r.X, Y: y, W: d.legendSampleMM() - 1.5, H: f.LineMM()})
		y = d.c.Lines(r.X+d.legendSampleMM(), y, row.lines, f) + 0.6
	}
}
