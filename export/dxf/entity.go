package dxf

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"loamline.example/export/place"
)

// tag writes a group: its code on a line, its value on the next.
func tag(b *strings.Builder, code int, value string) {
	fmt.Fprintf(b, "%3d\r\n%s\r\n", code, value)
}

func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	if s = strings.TrimRight(s, "0"); strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		s = "0.0"
	}
	return s
}

func position(b *strings.Builder, code int, at place.XY, z float64) {
	tag(b, code, number(at.X))
	tag(b, code+10, number(at.Y))
	tag(b, code+20, number(z))
}

// entity begins an entity on a layer.
func (d *drawing) entity(kind, layer string, colour int) {
	if _, there := d.seen[layer]; !there {
		d.seen[layer] = colour
		d.layers = append(d.layers, layer)
	}
	tag(&d.entities, 0, kind)
	tag(&d.entities, 8, layer)
}

func (d *drawing) grow(p place.XY) {
	d.lo = place.XY{X: min(d.lo.X, p.X), Y: min(d.lo.Y, p.Y)}
	d.hi = place.XY{X: max(d.hi.X, p.X), Y: max(d.hi.Y, p.Y)}
}

func (d *drawing) point(layer string, colour int, at place.XY) {
	d.entity("POINT", layer, colour)
	position(&d.entities, 10, at, 0)
	d.grow(at)
}

// polyline is flat without heights, and one in three dimensions with them.
func (d *drawing) polyline(layer string, colour int, path []place.XY, heights []float64, closed bool) {
	if closed && len(path) > 1 && path[0] == path[len(path)-1] {
		path = path[:len(path)-1]
	}
	flags, vertex := 0, "0"
	if closed {
		flags |= 1
	}
	if heights != nil {
		flags |= 8
		vertex = "32"
	}
	d.entity("POLYLINE", layer, colour)
	tag(&d.entities, 66, "1")
	position(&d.entities, 10, place.XY{}, 0)
	tag(&d.entities, 70, strconv.Itoa(flags))
	for i, p := range path {
		z := 0.0
		if heights != nil {
			z = heights[i]
		}
		d.entity("VERTEX", layer, colour)
		position(&d.entities, 10, p, z)
		tag(&d.entities, 70, vertex)
		d.grow(p)
	}
	d.entity("SEQEND", layer, colour)
}

func (d *drawing) text(layer string, colour int, at place.XY, heightM float64, words string) {
	d.entity("TEXT", layer, colour)
	position(&d.entities, 10, at, 0)
	tag(&d.entities, 40, number(heightM/d.unitM))
	tag(&d.entities, 1, plain(words))
	d.grow(at)
}

// plain is a text in the code page that the header names; what that has not by its
// number, no line ends, and nothing that would begin a control code but our own.
func plain(s string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(s, "%%", "% %") {
		switch {
		case r == '±':
			b.WriteString("%%p")
		case r == '°':
			b.WriteString("%%d")
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case r < 0x80:
			b.WriteRune(r)
		case isCodePage(r):
			c, _ := charmap.Windows1252.EncodeRune(r)
			b.WriteByte(c)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

func isCodePage(r rune) bool {
	c, ok := charmap.Windows1252.EncodeRune(r)
	return ok && c >= 0xa0
}

// write puts the header and the tables before the entities.
func (d *drawing) write(w io.Writer) error {
	var b strings.Builder
	section := func(name string, content func()) {
		tag(&b, 0, "SECTION")
		tag(&b, 2, name)
		content()
		tag(&b, 0, "ENDSEC")
	}
	lo, hi := d.lo, d.hi
	if !(lo.X <= hi.X) {
		lo, hi = place.XY{}, place.XY{}
	}
	tag(&b, 999, fitting(plain("loamline "+d.s.Version+", "+place.FrameWords(d.frame)), 200))
	section("HEADER", func() {
		tag(&b, 9, "$ACADVER")
		tag(&b, 1, "AC1009")
		tag(&b, 9, "$DWGCODEPAGE")
		tag(&b, 3, "ANSI_1252")
		tag(&b, 9, "$EXTMIN")
		position(&b, 10, lo, 0)
		tag(&b, 9, "$EXTMAX")
		position(&b, 10, hi, 0)
	})
	section("TABLES", func() {
		tag(&b, 0, "TABLE")
		tag(&b, 2, "LTYPE")
		tag(&b, 70, "1")
		tag(&b, 0, "LTYPE")
		for _, g := range []struct {
			code  int
			value string
		}{{2, "CONTINUOUS"}, {70, "0"}, {3, "Solid line"}, {72, "65"}, {73, "0"}, {40, "0.0"}} {
			tag(&b, g.code, g.value)
		}
		tag(&b, 0, "ENDTAB")
		tag(&b, 0, "TABLE")
		tag(&b, 2, "LAYER")
		tag(&b, 70, strconv.Itoa(len(d.layers)+1))
		for _, name := range append([]string{"0"}, d.layers...) {
			colour := 7
			if c, ok := d.seen[name]; ok {
				colour = c
			}
			tag(&b, 0, "LAYER")
			tag(&b, 2, name)
			tag(&b, 70, "0")
			tag(&b, 62, strconv.Itoa(colour))
			tag(&b, 6, "CONTINUOUS")
		}
		tag(&b, 0, "ENDTAB")
	})
	out := bufio.NewWriter(w)
	out.WriteString(b.String())
	b.Reset()
	tag(&b, 0, "SECTION")
	tag(&b, 2, "ENTITIES")
	out.WriteString(b.String())
	out.WriteString(d.entities.String())
	b.Reset()
	tag(&b, 0, "ENDSEC")
	tag(&b, 0, "EOF")
	out.WriteString(b.String())
	return out.Flush()
}
