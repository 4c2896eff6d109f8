package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/tongue"
)

// thin and heavy are the two pens of frames and tables.
var (
	thinPen  = paper.Pen{WidthMM: 0.18, Color: paper.Black}
	heavyPen = paper.Pen{WidthMM: 0.5, Color: paper.Black}
)

// pencil is what every area of every page is measured and drawn with: the paper, how its
// pages are laid out, and the language. It knows nothing of the job.
type pencil struct {
	c      *paper.Canvas
	lay    sheetLayout
	tongue *tongue.Speaker // nil for English
	asked  func() error    // why nothing is drawn any more, if so; nil asks nobody
}

// newPencil draws on a canvas in a language, which the canvas then speaks.
func newPencil(c *paper.Canvas, lay sheetLayout, by *tongue.Speaker, asked func() error) *pencil {
	if by != nil {
		c.Speak(by.Code(), by.Say)
	}
	return &pencil{c, lay, by, asked}
}

// on is the pencil on pages of another layout of the same canvas, in a language of it.
func (p pencil) on(lay sheetLayout, by *tongue.Speaker) *pencil {
	p.lay, p.tongue = lay, by
	return &p
}

// page begins a page of the pencil's size.
func (p *pencil) page(name string) { p.c.PageOf(p.lay.page.W, p.lay.page.H, name) }

func (p *pencil) font(face paper.Face, factor float64) paper.Font { return p.lay.font(face, factor) }

// heading sets the head of a block in the column and returns the y below it.
func (p *pencil) heading(r plan.Rect, s string) float64 {
	f := p.font(paper.Bold, 1)
	p.c.Lines(r.X, r.Y, []string{s}, f)
	y := r.Y + f.LineMM() + 0.3
	p.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
	return y + 0.8
}

// size is the room of lines of text.
func (p *pencil) size(lines []string, f paper.Font) (wMM, hMM float64) {
	for _, l := range lines {
		wMM = math.Max(wMM, p.c.Width(l, f))
	}
	return wMM, float64(len(lines)) * f.LineMM()
}

// plate whitens a turned rectangle under a text.
func (p *pencil) plate(at, dir plan.Pt, wMM, hMM float64) {
	u, n := dir.Scale(wMM/2), dir.Normal().Scale(hMM/2)
	p.c.Area([][]plan.Pt{{at.Add(u).Add(n), at.Add(u).Sub(n), at.Sub(u).Sub(n), at.Sub(u).Add(n)}}, paper.White)
}

// numberDisc writes a finding's number, white on black.
func (p *pencil) numberDisc(at plan.Pt, no int) {
	s := strconv.Itoa(no)
	f := paper.Font{Face: paper.Bold, SizePt: 6.5, Color: paper.White}
	p.c.Disc(at, discMM, paper.Black, thinPen)
	if len(s) > 2 {
		f.SizePt = 4.5
	}
	p.c.TextAlong(at, plan.Pt{X: 1}, s, f)
}

const discMM = 1.7

// inBoth is a short text in both languages of the sheet.
func (p *pencil) inBoth(s string) string {
	if !p.tongue.Both() || p.tongue.Say(s) == s {
		return s
	}
	return p.c.AsIs(p.tongue.Say(s) + " / " + s)[0]
}

// inItsLanguage draws in English where the sheet speaks it alone, whatever the canvas
// speaks.
func (p *pencil) inItsLanguage(draw func()) {
	if p.tongue == nil {
		p.c.AsWritten(draw)
		return
	}
	draw()
}
