package paper

import (
	"slices"
	"strconv"

	"loamline.example/export/internal/plan"
)

// Color is a colour of the screen's sRGB.
type Color struct{ R, G, B uint8 }

// Black and White are the two that always print.
var (
	Black = Color{0, 0, 0}
	White = Color{255, 255, 255}
)

// Gray returns a grey, 0 black to 255 white.
func Gray(v uint8) Color { return Color{v, v, v} }

// Hex reads "#RRGGBB"; anything else is black, the colour that always shows.
func Hex(s string) Color {
	if len(s) != 7 || s[0] != '#' {
		return Black
	}
	v, err := strconv.ParseUint(s[1:], 16, 32)
	if err != nil {
		return Black
	}
	return Color{uint8(v >> 16), uint8(v >> 8), uint8(v)}
}

// Pen is how a path is drawn.
type Pen struct {
	WidthMM float64
	Color   Color
	DashMM  []float64 // dash, space, ...; nil is solid
}

func (c *Canvas) setPen(p Pen) {
	if !c.fresh && p.WidthMM == c.pen.WidthMM && p.Color == c.pen.Color && slices.Equal(p.DashMM, c.pen.DashMM) {
		return
	}
	c.reset()
	c.pdf.SetLineWidth(p.WidthMM)
	c.pdf.SetDrawColor(int(p.Color.R), int(p.Color.G), int(p.Color.B))
	c.pdf.SetDashPattern(p.DashMM, 0)
	c.pen = p
}

func (c *Canvas) setFill(f Color) {
	if !c.fresh && f == c.fill {
		return
	}
	c.reset()
	c.pdf.SetFillColor(int(f.R), int(f.G), int(f.B))
	c.fill = f
}

// reset forgets what was set, after a clip or a turned text has put back the page's
// own state. The PDF library does not know of that and leaves out the colour of a
// text that it takes for set: black is set anew for both.
func (c *Canvas) reset() {
	if !c.fresh {
		return
	}
	c.fresh = false
	c.pen, c.fill, c.font = Pen{WidthMM: -1}, Black, Font{}
	c.pdf.SetFillColor(0, 0, 0)
}

// Line draws a straight line.
func (c *Canvas) Line(a, b plan.Pt, p Pen) { c.Path([]plan.Pt{a, b}, p) }

// Path draws an open path.
func (c *Canvas) Path(path []plan.Pt, p Pen) {
	path = finite(path)
	if len(path) < 2 {
		return
	}
	c.setPen(p)
	c.trace(path)
	c.pdf.DrawPath("D")
}

// Rings draws the outlines of closed rings.
func (c *Canvas) Rings(rings [][]plan.Pt, p Pen) {
	c.setPen(p)
	for _, r := range rings {
		if r = finite(r); len(r) > 2 {
			c.trace(r)
			c.pdf.ClosePath()
			c.pdf.DrawPath("D")
		}
	}
}

// Area fills rings by the even-odd rule, so that a ring within a ring is a hole.
func (c *Canvas) Area(rings [][]plan.Pt, f Color) {
	c.setFill(f)
	drawn := false
	for _, r := range rings {
		if r = finite(r); len(r) > 2 {
			c.trace(r)
			c.pdf.ClosePath()
			drawn = true
		}
	}
	if drawn {
		c.pdf.DrawPath("F*")
	}
}

func (c *Canvas) trace(path []plan.Pt) {
	c.pdf.MoveTo(path[0].X, path[0].Y)
	for _, q := range path[1:] {
		c.pdf.LineTo(q.X, q.Y)
	}
}

// Box fills a rectangle.
func (c *Canvas) Box(r plan.Rect, f Color) {
	c.setFill(f)
	c.pdf.Rect(r.X, r.Y, r.W, r.H, "F")
}

// Frame outlines a rectangle.
func (c *Canvas) Frame(r plan.Rect, p Pen) {
	c.setPen(p)
	c.pdf.Rect(r.X, r.Y, r.W, r.H, "D")
}

// Disc fills a circle and outlines it.
func (c *Canvas) Disc(at plan.Pt, radiusMM float64, f Color, p Pen) {
	if !at.Finite() {
		return
	}
	c.setFill(f)
	c.setPen(p)
	c.pdf.Circle(at.X, at.Y, radiusMM, "FD")
}

// Circle outlines a circle.
func (c *Canvas) Circle(at plan.Pt, radiusMM float64, p Pen) {
	if !at.Finite() {
		return
	}
	c.setPen(p)
	c.pdf.Circle(at.X, at.Y, radiusMM, "D")
}

func finite(path []plan.Pt) []plan.Pt {
	for i, q := range path {
		if !q.Finite() {
			out := slices.Clone(path[:i])
			for _, q := range path[i:] {
				if q.Finite() {
					out = append(out, q)
				}
			}
			return out
		}
	}
	return path
}
