package pdf

import (
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// bandLeastMM keeps the word readable that heads the band.
const bandLeastMM = 15

// cautionBand has the cautions of a job: no page is without them.
type cautionBand struct {
	*pencil
	texts  []string
	readPt float64 // least size of what a crew reads, of a crew sheet alone
}

func newCautionBand(p *pencil, s *trace.Sheet) *cautionBand {
	return &cautionBand{pencil: p, texts: cautionTexts(s)}
}

// mostMM is the height that the band should keep to.
func (band *cautionBand) mostMM() float64 { return band.lay.drawing.H * 0.15 }

// cautionTexts are the cautions, numbered. A sheet without any gets the one
// that holds for every map.
func cautionTexts(s *trace.Sheet) []string {
	list := s.Cautions
	if len(list) == 0 {
		list = []string{"Positions and depths are estimates. Expose every line by hand or vacuum before digging near it."}
	}
	out := words.Contact(s) // first, and without a number: it is no caution
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

// sizes are the sizes of type of a band, the largest first: on a crew sheet that
// of the lists.
func (band *cautionBand) sizes() []float64 {
	if band.readPt > 0 {
		return []float64{band.readPt / band.lay.basePt}
	}
	return []float64{1.45, 1.25, 1.12, 1.04, 0.97, 0.9}
}

// columns breaks the cautions into columns, in the largest type that the
// band can hold.
func (band *cautionBand) columns(widthMM float64) (cols [][]string, wideMM []float64, f paper.Font) {
	if band.readPt > 0 && band.tongue.Both() {
		f = band.font(paper.Regular, band.sizes()[0])
		cols, wideMM = band.columnsInBoth(f, widthMM)
		return cols, wideMM, f
	}
	for _, factor := range band.sizes() {
		f = band.font(paper.Regular, factor)
		var blocks [][]string
		total := 0
		for _, s := range band.texts {
			b := band.c.Wrap(s, f, cautionColumnMM(widthMM))
			blocks, total = append(blocks, b), total+len(b)
		}
		n := cautionColumns(widthMM)
		cols = columnsOf(blocks, n, (total+n-1)/n)
		if float64(tallest(cols))*f.LineMM()+2.4 <= band.mostMM() {
			break
		}
	}
	return cols, slices.Repeat([]float64{cautionColumnMM(widthMM)}, len(cols)), f
}

// columnsInBoth are the cautions in the other language, then in English, each in a
// column as wide as its share of the text.
func (band *cautionBand) columnsInBoth(f paper.Font, widthMM float64) (cols [][]string, wideMM []float64) {
	roomMM := widthMM - cautionTabMM - 6
	for share := 0.62; ; share -= 0.01 {
		other, english := roomMM*share, roomMM*(1-share)
		var a, b []string
		for _, s := range band.texts {
			a = append(a, band.c.Wrap(s, f, other)...)
			band.c.AsWritten(func() { b = append(b, band.c.Wrap(s, f, english)...) })
		}
		if len(b) <= len(a) || share < 0.45 {
			return [][]string{a, b}, []float64{other, english}
		}
	}
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

// heightMM is the height of the band, which grows with its words.
func (band *cautionBand) heightMM(widthMM float64) float64 {
	cols, _, f := band.columns(widthMM)
	return math.Max(bandLeastMM, float64(tallest(cols))*f.LineMM()+2.4)
}

// draw puts down the band that lies between plan and profile: whoever cuts the
// sheet cuts the drawing.
func (band *cautionBand) draw(r plan.Rect) {
	cols, wideMM, f := band.columns(r.W)
	band.c.Box(r, paper.Gray(244))
	band.c.Box(plan.Rect{X: r.X, Y: r.Y, W: cautionTabMM, H: r.H}, paper.Black)
	word, f8 := band.inBoth("CAUTION"), paper.Font{Face: paper.Bold, SizePt: 8, Color: paper.White}
	if band.c.Width(word, f8) > r.H-2 {
		word = "CAUTION"
	}
	band.c.TextAlong(plan.Pt{X: r.X + cautionTabMM/2, Y: r.Y + r.H/2}, plan.Pt{Y: -1}, word, f8)
	x := r.X + cautionTabMM + 2
	for i, lines := range cols {
		set := func() { band.c.Lines(x, r.Y+1.2, lines, f) }
		if i == 1 && band.readPt > 0 && band.tongue.Both() {
			band.c.AsWritten(set)
		} else {
			set()
		}
		x += wideMM[i] + 3
	}
	band.c.Line(plan.Pt{X: r.X, Y: r.Y}, plan.Pt{X: r.Right(), Y: r.Y}, heavyPen)
	band.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
}
