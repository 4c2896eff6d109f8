package pdf

import (
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// bandLeastMM keeps the word readable that heads the band.
const bandLeastMM = 15

// bandMostMM is the height that the band should keep to.
func (d *drafter) bandMostMM() float64 { return d.lay.drawing.H * 0.15 }

// cautionTexts are the cautions, numbered. A sheet without any gets the one
// that holds for every map.
func (d *drafter) cautionTexts() []string {
	list := d.s.Cautions
	if len(list) == 0 {
		list = []string{"Positions and depths are estimates. Expose every line by hand or vacuum before digging near it."}
	}
	out := words.Contact(d.s) // first, and without a number: it is no caution
	for i, s := range list {
		out = append(out, strconv.Itoa(i+1)+"  "+words.Sentence(s))
	}
	return out
}

const cautionTabMM = 7

// cautionColumns is the number of columns of text in a band: lines are short
// enough to be read.
func cautionColumns(widthMM float64) int { return max(1, int(widthMM/90)) }

func cautionColumnMM(widthMM float64) float64 {
	n := float64(cautionColumns(widthMM))
	return (widthMM - cautionTabMM - 3 - 3*(n-1)) / n
}

// cautionSizes are the sizes of type of a band, the largest first: on a crew sheet that
// of the lists.
func (d *drafter) cautionSizes() []float64 {
	if d.lay.readPt > 0 {
		return []float64{d.lay.readPt / d.lay.basePt}
	}
	return []float64{1.45, 1.25, 1.12, 1.04, 0.97, 0.9}
}

// cautionLines breaks the cautions into columns, in the largest type that the
// band can hold.
func (d *drafter) cautionLines(widthMM float64) (cols [][]string, wideMM []float64, f paper.Font) {
	if d.lay.readPt > 0 && d.tongue.Both() {
		f = d.font(paper.Regular, d.cautionSizes()[0])
		cols, wideMM = d.cautionsInBoth(f, widthMM)
		return cols, wideMM, f
	}
	for _, factor := range d.cautionSizes() {
		f = d.font(paper.Regular, factor)
		var blocks [][]string
		total := 0
		for _, s := range d.cautionTexts() {
			b := d.c.Wrap(s, f, cautionColumnMM(widthMM))
			blocks, total = append(blocks, b), total+len(b)
		}
		n := cautionColumns(widthMM)
		cols = columnsOf(blocks, n, (total+n-1)/n)
		if float64(tallest(cols))*f.LineMM()+2.4 <= d.bandMostMM() {
			break
		}
	}
	return cols, slices.Repeat([]float64{cautionColumnMM(widthMM)}, len(cols)), f
}

// columnsOf flows blocks into n columns of at least the given number of lines,
// none of them cut.
func columnsOf(blocks [][]string, n, lines int) [][]string {
	for ; ; lines++ {
		cols := [][]string{nil}
		for _, b := range blocks {
			if k := len(cols) - 1; len(cols[k]) > 0 && len(cols[k])+len(b) > lines {
				cols = append(cols, nil)
			}
			cols[len(cols)-1] = append(cols[len(cols)-1], b...)
		}
		if len(cols) <= n {
			return cols
		}
	}
}

func tallest(cols [][]string) int {
	n := 0
	for _, c := range cols {
		n = max(n, len(c))
	}
	return n
}

func (d *drafter) cautionsHeight(widthMM float64) float64 {
	cols, _, f := d.cautionLines(widthMM)
	return math.Max(bandLeastMM, float64(tallest(cols))*f.LineMM()+2.4)
}

// cautions draws the band that lies between plan and profile: whoever cuts the
// sheet cuts the drawing.
func (d *drafter) cautions(r plan.Rect) {
	cols, wideMM, f := d.cautionLines(r.W)
	d.c.Box(r, paper.Gray(244))
	d.c.Box(plan.Rect{X: r.X, Y: r.Y, W: cautionTabMM, H: r.H}, paper.Black)
	word, f8 := d.inBoth("CAUTION"), paper.Font{Face: paper.Bold, SizePt: 8, Color: paper.White}
	if d.c.Width(word, f8) > r.H-2 {
		word = "CAUTION"
	}
	d.c.TextAlong(plan.Pt{X: r.X + cautionTabMM/2, Y: r.Y + r.H/2}, plan.Pt{Y: -1}, word, f8)
	x := r.X + cautionTabMM + 2
	for i, lines := range cols {
		set := func() { d.c.Lines(x, r.Y+1.2, lines, f) }
		if i == 1 && d.lay.readPt > 0 && d.tongue.Both() {
			d.c.AsWritten(set)
		} else {
			set()
		}
		x += wideMM[i] + 3
	}
	d.c.Line(plan.Pt{X: r.X, Y: r.Y}, plan.Pt{X: r.Right(), Y: r.Y}, heavyPen)
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
}
