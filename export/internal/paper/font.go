package paper

import (
	"bytes"
	"encoding/binary"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// Face is one of the embedded fonts: Liberation Sans.
type Face int

// The faces.
const (
	Regular Face = iota
	Bold
	Italic
)

var faces = [3]struct {
	style string
	ttf   []byte
}{{"", liberationsansregular.TTF}, {"B", liberationsansbold.TTF}, {"I", liberationsansitalic.TTF}}

// Font is how text is set.
type Font struct {
	Face   Face
	SizePt float64
	Color  Color
}

// LineMM returns the distance between lines of text.
func (f Font) LineMM() float64 { return f.SizePt * ptMM * 1.2 }

const ptMM = 25.4 / 72

func (c *Canvas) loadFonts() {
	for i, f := range faces {
		// The PDF library rewrites parts of the font in place while it cuts it
		// down to the letters used: every file gets its own copy.
		c.pdf.AddUTF8FontFromBytes("sans", f.style, bytes.Clone(f.ttf))
		c.fonts[i] = readGlyphs(f.ttf)
	}
	c.pdf.SetFont("sans", "", 7)
}

// glyphs is the set of characters that a font has, as ranges of code points.
type glyphs []struct{ first, last uint16 }

func (g glyphs) has(r rune) bool {
	if r > 0xFFFF {
		return false
	}
	for _, s := range g {
		if uint16(r) <= s.last {
			return uint16(r) >= s.first
		}
	}
	return false
}

// readGlyphs reads the segments of a TrueType font's character map, format 4
// (OpenType specification 1.9, "cmap"). A segment may hold a few code points
// without a glyph of their own; those show as the font's own box.
func readGlyphs(ttf []byte) glyphs {
	u16 := func(i int) int {
		if i+2 > len(ttf) {
			return 0
		}
		return int(binary.BigEndian.Uint16(ttf[i:]))
	}
	u32 := func(i int) int { return u16(i)<<16 | u16(i+2) }
	for t := range u16(4) {
		record := 12 + 16*t
		if string(ttf[record:record+4]) != "cmap" {
			continue
		}
		cmap := u32(record + 8)
		for i := range u16(cmap + 2) {
			table := cmap + u32(cmap+4+8*i+4)
			if u16(table) == 4 {
				return segments(u16, table)
			}
		}
	}
	return nil
}

func segments(u16 func(int) int, table int) glyphs {
	n := u16(table+6) / 2
	out := make(glyphs, n)
	for i := range n {
		out[i].last = uint16(u16(table + 14 + 2*i))
		out[i].first = uint16(u16(table + 16 + 2*n + 2*i))
	}
	return out
}
