package paper

import (
	"math"
	"strings"
	"unicode"

	"loamline.example/export/internal/plan"
)

// Align says which point of a line of text its position names.
type Align int

// The alignments.
const (
	Left Align = iota
	Middle
	Right
)

// missing stands for a character that the fonts lack.
const missing = '\u25A1'

// Clean returns a text as it can be shown: one line, control and direction
// marks taken out, characters that the fonts lack replaced by a box.
func (c *Canvas) Clean(s string) string {
	if plain(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Mn, r) && !c.fonts[0].has(r):
			return -1
		case c.fonts[0].has(r):
			return r
		}
		return missing
	}, s)
}

// plain reports whether a text is of printable ASCII alone, which every font has.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

func (c *Canvas) setFont(f Font) {
	if !c.fresh && f == c.font {
		return
	}
	c.reset()
	c.pdf.SetFont("sans", faces[f.Face].style, f.SizePt)
	c.pdf.SetTextColor(int(f.Color.R), int(f.Color.G), int(f.Color.B))
	c.font = f
}

// Width returns the length of a line of text in millimetres.
func (c *Canvas) Width(s string, f Font) float64 {
	c.setFont(f)
	return c.pdf.GetStringWidth(c.Clean(c.worded(s)))
}

// width is Width of a text that is worded.
func (c *Canvas) width(s string, f Font) float64 {
	c.setFont(f)
	return c.pdf.GetStringWidth(c.Clean(s))
}

// Text sets one line; at is on its baseline.
func (c *Canvas) Text(at plan.Pt, s string, f Font, a Align) {
	s = c.Clean(c.worded(s))
	if s == "" || !at.Finite() {
		return
	}
	c.setFont(f)
	switch a {
	case Middle:
		at.X -= c.pdf.GetStringWidth(s) / 2
	case Right:
		at.X -= c.pdf.GetStringWidth(s)
	}
	c.pdf.Text(at.X, at.Y, s)
}

// TextAlong sets one line centred on a point, running in a direction of the
// sheet and turned so that it is never upside down.
func (c *Canvas) TextAlong(at, dir plan.Pt, s string, f Font) {
	if !at.Finite() || !dir.Finite() {
		return
	}
	if dir.X < -1e-9 || math.Abs(dir.X) <= 1e-9 && dir.Y > 0 {
		dir = dir.Scale(-1)
	}
	c.setFont(f)
	c.pdf.TransformBegin()
	c.pdf.TransformRotate(-math.Atan2(dir.Y, dir.X)*180/math.Pi, at.X, at.Y)
	c.Text(plan.Pt{X: at.X, Y: at.Y + f.SizePt*ptMM*0.35}, s, f, Middle)
	c.pdf.TransformEnd()
	c.fresh = true
}

// Wrap breaks a text into lines no wider than widthMM. A word that is too wide
// is broken within.
func (c *Canvas) Wrap(s string, f Font, widthMM float64) []string {
	return c.AsIs(c.wrap(c.worded(s), f, widthMM)...)
}

func (c *Canvas) wrap(s string, f Font, widthMM float64) []string {
	var lines []string
	line := ""
	for _, word := range pieces(c.Clean(s)) {
		for c.width(word, f) > widthMM {
			head := c.head(word, f, widthMM)
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, head), word[len(head):]
		}
		switch next := line + " " + word; {
		case line == "":
			line = word
		case c.width(next, f) <= widthMM:
			line = next
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// pieces splits a text where a line may end: at spaces, but not between a figure
// and its unit or its band.
func pieces(s string) []string {
	var out []string
	for _, word := range strings.Fields(s) {
		if n := len(out); n > 0 && (word == "±" || strings.HasSuffix(out[n-1], "±") || figure(out[n-1]) && unit(word)) {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

func figure(s string) bool {
	last := s[len(s)-1]
	return last >= '0' && last <= '9'
}

func unit(s string) bool {
	switch strings.TrimRight(s, ".,;:)") {
	case "m", "cm", "mm", "km", "ft", "in", "Hz", "kHz", "%", "mA":
		return true
	}
	return false
}

// head returns the longest beginning of a word that fits, one letter at least.
func (c *Canvas) head(word string, f Font, widthMM float64) string {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if end > 0 && c.width(word[:next], f) > widthMM {
			break
		}
		end = next
	}
	return word[:end]
}

// WrapTo is Wrap held to a number of lines; what does not fit ends in an
// ellipsis.
func (c *Canvas) WrapTo(s string, f Font, widthMM float64, most int) []string {
	lines := c.Wrap(s, f, widthMM)
	if len(lines) <= most || most < 1 {
		return lines
	}
	lines = lines[:most:most]
	lines[most-1] = c.fitWords(lines[most-1], f, widthMM)
	return c.AsIs(lines...)
}

// fitWords ends a line in an ellipsis behind the last whole word that leaves room for it:
// half a word, or half a figure, may be read as another.
func (c *Canvas) fitWords(line string, f Font, widthMM float64) string {
	for cut := c.Clean(line); ; {
		if c.width(cut+" …", f) <= widthMM {
			return cut + " …"
		}
		at := strings.LastIndexByte(cut, ' ')
		if at < 0 {
			return strings.TrimSuffix(c.fit(cut+" …", f, widthMM), "…") + "…"
		}
		cut = cut[:at]
	}
}

// Fit cuts a line to a width, ending in an ellipsis where it was cut.
func (c *Canvas) Fit(s string, f Font, widthMM float64) string {
	return c.AsIs(c.fit(c.worded(s), f, widthMM))[0]
}

func (c *Canvas) fit(s string, f Font, widthMM float64) string {
	s = c.Clean(s)
	if c.width(s, f) <= widthMM {
		return s
	}
	r := []rune(s)
	lo, hi := 0, len(r)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if c.width(string(r[:mid])+"…", f) <= widthMM {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return strings.TrimRight(string(r[:lo]), " …") + "…"
}

// Lines sets lines of text under each other; top is the upper edge. It returns
// the lower edge.
func (c *Canvas) Lines(x, top float64, lines []string, f Font) float64 {
	for _, l := range lines {
		c.Text(plan.Pt{X: x, Y: top + f.SizePt*ptMM*0.95}, l, f, Left)
		top += f.LineMM()
	}
	return top
}
