package main

import (
	"fmt"
	"html"
	"io"
	"math"
	"math/cmplx"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// The plot's layout in user units: curves above the ground, lines below it.
const (
	plotWidth, plotHeight = 760, 524
	plotLeft, plotRight   = 70, 740
	plotTop, plotGround   = 92, 310
	plotFloor             = 430
)

// whatIfPlot draws one section. Everything is told by shape and line style as
// well as by colour, so that it reads in black and white.
type whatIfPlot struct {
	w        whatIf
	out      io.Writer
	from, to float64
	top      float64 // tesla at full height
	deepest  float64
}

// plot writes the section as SVG 1.1.
func (w whatIf) plot(out io.Writer) {
	p := whatIfPlot{w: w, out: out}
	p.from, p.to = w.span()
	for i := range 401 {
		x := p.from + (p.to-p.from)*float64(i)/400
		p.top = math.Max(p.top, math.Max(cmplx.Abs(w.section.Bh(x, 0)), cmplx.Abs(w.section.Bv(x, 0))))
	}
	for _, c := range w.section.Lines {
		p.deepest = math.Max(p.deepest, c.DepthM)
	}
	s := w.section.Survey(0, w.gapM)
	if s.DepthM > 0 {
		p.deepest = math.Max(p.deepest, math.Min(s.DepthM, 1.6*p.deepest))
	}
	p.head(s)
	p.axes()
	p.curve(func(x float64) float64 { return cmplx.Abs(w.section.Bh(x, 0)) }, `stroke="#1a3a6b" stroke-width="2.5"`)
	p.curve(func(x float64) float64 { return cmplx.Abs(w.section.Bv(x, 0)) }, `stroke="#8a4b08" stroke-width="2" stroke-dasharray="7 4"`)
	p.lines()
	p.marks(s)
	p.legend()
	p.cautions()
	fmt.Fprintln(out, "</svg>")
}

func (p whatIfPlot) x(m float64) float64 {
	return plotLeft + (m-p.from)/(p.to-p.from)*(plotRight-plotLeft)
}

func (p whatIfPlot) y(tesla float64) float64 {
	return plotGround - tesla/p.top*(plotGround-plotTop)
}

func (p whatIfPlot) below(depthM float64) float64 {
	return plotGround + depthM/p.deepest*(plotFloor-plotGround-10)
}

func (p whatIfPlot) head(s receiver.Shown) {
	desc := fmt.Sprintf("Horizontal and vertical field across a line %s deep. The peak lies %s, the null %s. Depth shows %s.",
		p.w.units.Short(p.w.section.Lines[0].DepthM), aside(p.w.units, s.PeakM), aside(p.w.units, s.NullM), shownDepth(p.w.units, s.DepthM))
	fmt.Fprintf(p.out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="t d" font-family="sans-serif" font-size="13">
<title id="t">Field across the line</title>
<desc id="d">%s</desc>
<rect width="%d" height="%d" fill="#fff"/>
`, plotWidth, plotHeight, html.EscapeString(desc+" "+whatIfCaution+" "+trace.ShortCaution), plotWidth, plotHeight)
	title := fmt.Sprintf("The peak lies %s; depth shows %s, true %s", aside(p.w.units, s.PeakM),
		shownDepth(p.w.units, s.DepthM), p.w.units.Short(p.w.section.Lines[0].DepthM))
	fmt.Fprintf(p.out, "<text x=\"%d\" y=\"24\" font-size=\"16\">%s</text>\n", plotLeft, html.EscapeString(title))
}

// axes draws the ground with a tick at round distances, and the signal's scale.
func (p whatIfPlot) axes() {
	fmt.Fprintf(p.out, "<path d=\"M%d %d H%d\" stroke=\"#000\" stroke-width=\"1.5\" fill=\"none\"/>\n", plotLeft, plotGround, plotRight)
	unit := 1.0
	if p.w.units == geo.US {
		unit = geo.FootM
	}
	step := roundStep((p.to - p.from) / unit / 8)
	for k := math.Ceil(p.from / unit / step); k*step*unit <= p.to; k++ {
		x := p.x(k * step * unit)
		fmt.Fprintf(p.out, "<path d=\"M%.1f %d v6\" stroke=\"#000\"/><text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\" font-size=\"11\">%s</text>\n",
			x, plotFloor, x, plotFloor+19, tickWords(k*step))
	}
	name := "m"
	if unit != 1 {
		name = "ft"
	}
	fmt.Fprintf(p.out, "<path d=\"M%d %d H%d\" stroke=\"#000\" stroke-width=\"0.7\" fill=\"none\"/>\n", plotLeft, plotFloor, plotRight)
	fmt.Fprintf(p.out, "<text x=\"%d\" y=\"%d\" text-anchor=\"end\" font-size=\"11\">%s to the right of the line</text>\n", plotRight, plotFloor+36, name)
	for _, part := range []float64{0, 0.5, 1} {
		fmt.Fprintf(p.out, "<text x=\"%d\" y=\"%.1f\" text-anchor=\"end\" font-size=\"11\">%.3g nT</text>\n", plotLeft-6, p.y(part*p.top)+4, part*p.top*1e9)
	}
}

// roundStep is the next of 1, 2, 5 times a power of ten.
func roundStep(v float64) float64 {
	e := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 5} {
		if f*e >= v {
			return f * e
		}
	}
	return 10 * e
}

func tickWords(v float64) string { return fmt.Sprintf("%.4g", v+0) }

func (p whatIfPlot) curve(f func(float64) float64, style string) {
	fmt.Fprint(p.out, `<path fill="none" `, style, ` d="`)
	const n = 400
	for i := range n + 1 {
		x := p.from + (p.to-p.from)*float64(i)/n
		c := "L"
		if i == 0 {
			c = "M"
		}
		fmt.Fprintf(p.out, "%s%.1f %.1f", c, p.x(x), p.y(f(x)))
	}
	fmt.Fprintln(p.out, `"/>`)
}

// lines draws the conductors below the ground: the line filled, neighbours
// open.
func (p whatIfPlot) lines() {
	for i, c := range p.w.section.Lines {
		fill, words := "#000", "the line"
		if i > 0 {
			fill = "#fff"
			words = fmt.Sprintf("%+.2g", real(c.CurrentA/p.w.section.Lines[0].CurrentA))
			if imag(c.CurrentA) != 0 {
				words = fmt.Sprintf("%.2g out of phase", cmplx.Abs(c.CurrentA/p.w.section.Lines[0].CurrentA))
			}
		}
		x, y := p.x(c.XM), p.below(c.DepthM)
		fmt.Fprintf(p.out, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"6\" fill=\"%s\" stroke=\"#000\" stroke-width=\"1.5\"/>", x, y, fill)
		anchor, dx := "start", 11.0
		if c.XM < 0 || i == 0 && p.w.section.PeakM(0) > 0 {
			anchor, dx = "end", -11
		}
		fmt.Fprintf(p.out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x+dx, y+4, anchor, words)
	}
}

// marks draws where the mark and the null fall, and the depth shown.
func (p whatIfPlot) marks(s receiver.Shown) {
	flag := func(m float64, dash, words, anchor string, dx float64) {
		x := p.x(m)
		fmt.Fprintf(p.out, "<path d=\"M%.1f %d V%d\" stroke=\"#000\" stroke-dasharray=\"%s\" fill=\"none\"/><text x=\"%.1f\" y=\"%d\" text-anchor=\"%s\">%s</text>\n",
			x, plotTop-20, plotGround, dash, x+dx, plotTop-9, anchor, words)
	}
	left, right := "end", "start"
	dl, dr := -5.0, 5.0
	if s.NullOffsetM < 0 {
		left, right, dl, dr = right, left, dr, dl
	}
	flag(s.PeakM, "none", "peak", left, dl)
	if !math.IsNaN(s.NullM) {
		flag(s.NullM, "3 3", "null", right, dr)
	}
	if s.DepthM > 0 && s.DepthM <= p.deepest {
		x, y := p.x(s.PeakM), p.below(s.DepthM)
		fmt.Fprintf(p.out, "<path d=\"M%.1f %d V%.1f M%.1f %.1f h12 M%.1f %.1f h6\" stroke=\"#000\" stroke-width=\"1.2\" fill=\"none\"/>\n",
			x, plotGround, y, x-6, y, x-3, y-4)
	}
}

func (p whatIfPlot) legend() {
	const x, y = plotLeft, 46
	fmt.Fprintf(p.out, `<path d="M%d %d h34" stroke="#1a3a6b" stroke-width="2.5"/><text x="%d" y="%d">horizontal field (peak)</text>
<path d="M%d %d h34" stroke="#8a4b08" stroke-width="2" stroke-dasharray="7 4"/><text x="%d" y="%d">vertical field (null)</text>
<path d="M%d %d h12 m-6 0 v-12" stroke="#000" stroke-width="1.2" fill="none"/><text x="%d" y="%d">depth shown</text>
`, x, y-4, x+42, y, x+220, y-4, x+262, y, x+430, y, x+452, y)
}

// cautions stand below the picture, for it travels without the text. Each
// sentence has a line: the last of them is the longest that fits.
func (p whatIfPlot) cautions() {
	lines := append([]string{whatIfCaution}, strings.SplitAfter(trace.ShortCaution, ". ")...)
	for i, l := range lines {
		fmt.Fprintf(p.out, "<text x=\"%d\" y=\"%d\" font-size=\"10\">%s</text>\n", plotLeft, plotFloor+52+13*i, html.EscapeString(strings.TrimSpace(l)))
	}
}
