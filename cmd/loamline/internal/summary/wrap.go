package summary

import (
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// forReading is w, for texts that are written as a whole: on a terminal their lines are
// broken between words, and go on under their first word.
func forReading(w io.Writer) io.Writer {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return w
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < leastWidth {
		return w
	}
	return wordWrapper{w, width}
}

// leastWidth is what a line is broken to at least: a narrower terminal breaks it itself.
const leastWidth = 40

type wordWrapper struct {
	to    io.Writer
	width int
}

func (w wordWrapper) Write(text []byte) (int, error) {
	var b strings.Builder
	for line := range strings.Lines(string(text)) {
		b.WriteString(wrapLine(line, w.width))
	}
	if _, err := io.WriteString(w.to, b.String()); err != nil {
		return 0, err
	}
	return len(text), nil
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
