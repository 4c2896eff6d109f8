package export

import (
	"math"
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
)

// bandReserveMM is the height that the caution band is expected to take when
// strips are cut; a longer one takes room from the window, not from the scale.
const bandReserveMM = 19

// bandLeastMM keeps the word readable that heads the band.
const bandLeastMM = 15

// bandMM is the height that the band should keep to.
func (d *drafter) bandMM() float64 { return d.lay.drawing.H * 0.1 }

// cautionTexts are the cautions, numbered. A sheet without any gets the one
// that holds for every map.
func (d *drafter) cautionTexts() []string {
	list := d.s.Cautions
	if len(list) == 0 {
		list = []string{"Positions and depths are estimates. Expose every line by hand or vacuum before digging near it."}
	}
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = strconv.Itoa(i+1) + "  " + sentence(s)
	}
	return out
}

const cautionTabMM = 7

// cautionLines breaks the cautions for two columns in the smallest number of
// lines, at a size that the band can hold.
func (d *drafter) cautionLines(widthMM float64) ([2][]string, paper.Font) {
	var cols [2][]string
	var f paper.Font
	for _, factor := range []float64{1.45, 1.25, 1.12, 1, 0.94, 0.88, 0.82} {
		f = d.font(paper.Regular, factor)
		var blocks [][]string
		total := 0
		for _, s := range d.cautionTexts() {
			b := d.c.Wrap(s, f, (widthMM-cautionTabMM-7)/2)
			blocks, total = append(blocks, b), total+len(b)
		}
		cols = [2][]string{}
		for _, b := range blocks {
			k := 0
			if len(cols[1]) > 0 || len(cols[0]) > 0 && len(cols[0])+len(b) > (total+1)/2 {
				k = 1
			}
			cols[k] = append(cols[k], b...)
		}
		if float64(max(len(cols[0]), len(cols[1])))*f.LineMM()+2.4 <= d.bandMM() {
			break
		}
	}
	return cols, f
}

func (d *drafter) cautionsHeight(widthMM float64) float64 {
	cols, f := d.cautionLines(widthMM)
	return math.Max(bandLeastMM, float64(max(len(cols[0]), len(cols[1])))*f.LineMM()+2.4)
}

// cautions draws the band that lies between plan and profile: whoever cuts the
// sheet cuts the drawing.
func (d *drafter) cautions(r plan.Rect) {
	cols, f := d.cautionLines(r.W)
	d.c.Box(r, paper.Gray(244))
	d.c.Box(plan.Rect{X: r.X, Y: r.Y, W: cautionTabMM, H: r.H}, paper.Black)
	d.c.TextAlong(plan.Pt{X: r.X + cautionTabMM/2, Y: r.Y + r.H/2}, plan.Pt{Y: -1}, "CAUTION",
		paper.Font{Face: paper.Bold, SizePt: 8, Color: paper.White})
	w := (r.W - cautionTabMM - 7) / 2
	for i, lines := range cols {
		d.c.Lines(r.X+cautionTabMM+2+float64(i)*(w+3), r.Y+1.2, lines, f)
	}
	d.c.Line(plan.Pt{X: r.X, Y: r.Y}, plan.Pt{X: r.Right(), Y: r.Y}, heavyPen)
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
}
