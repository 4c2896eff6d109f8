package summary

import (
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// write writes a text: on a terminal its lines are broken between words, and go on under
// their first word.
func write(w io.Writer, text string) {
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil && width >= leastWidth {
			text = wrap(text, width)
		}
	}
	io.WriteString(w, text)
}

// leastWidth is what a line is broken to at least: a narrower terminal breaks it itself.
const leastWidth = 40

func wrap(text string, width int) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString(wrapLine(line, width))
	}
	return b.String()
}

// wrapLine breaks a line between its words. Blanks between words stay as they are, as
// columns of a table are made of them.
func wrapLine(line string, width int) string {
	text := strings.TrimSuffix(line, "\n")
	if columns(inkless(text)) <= width {
		return line
	}
	indent := strings.Repeat(" ", len(text)-len(strings.TrimLeft(text, " -")))
	var b strings.Builder
	at := 0 // columns written of this row
	for len(text) > 0 {
		n := len(text) - len(strings.TrimLeft(text, " "))
		blanks, rest := text[:n], text[n:]
		end := strings.IndexByte(rest, ' ')
		if end < 0 {
			end = len(rest)
		}
		word := rest[:end]
		if wide := columns(inkless(word)); at > len(indent) && at+n+wide > width {
			b.WriteString("\n" + indent + word)
			at = len(indent) + wide
		} else {
			b.WriteString(blanks + word)
			at += n + wide
		}
		text = rest[end:]
	}
	return b.String() + line[len(strings.TrimSuffix(line, "\n")):]
}

// inkless is a text without the attributes of ink.
func inkless(text string) string {
	for {
		from := strings.Index(text, "\x1b[")
		if from < 0 {
			return text
		}
		to := strings.IndexByte(text[from:], 'm')
		if to < 0 {
			return text
		}
		text = text[:from] + text[from+to+1:]
	}
}
