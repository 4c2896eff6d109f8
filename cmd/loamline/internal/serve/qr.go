package serve

import (
	"fmt"
	"html/template"
	"strings"

	"rsc.io/qr"
)

// quiet is the empty margin about a code in modules (ISO/IEC 18004, 6.3.8).
const quiet = 4

// QRText draws a code of a text with characters, two rows of modules a line, dark on light
// as scanners want it: for terminals, whose ground is dark.
func QRText(text string) (string, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for y := -quiet; y < c.Size+quiet; y += 2 {
		for x := -quiet; x < c.Size+quiet; x++ {
			up, down := !c.Black(x, y), !c.Black(x, y+1)
			switch {
			case up && down:
				b.WriteRune('█')
			case up:
				b.WriteRune('▀')
			case down:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}

// qrPicture draws a code for a page, empty where the text is too long for one.
func qrPicture(text string) template.HTML {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return ""
	}
	var d strings.Builder
	for y := range c.Size {
		for x := range c.Size {
			if c.Black(x, y) {
				fmt.Fprintf(&d, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	n := c.Size + 2*quiet
	// Figures and letters of ours alone: nothing of the text is in it.
	return template.HTML(fmt.Sprintf(`<svg class="qr" role="img" aria-label="The same as a code for a phone's camera" viewBox="0 0 %d %d"><path class="qr-ground" d="M0 0h%dv%dH0z"/><path class="qr-ink" d="%s"/></svg>`, n, n, n, n, d.String()))
}
