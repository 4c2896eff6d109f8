package summary

import (
	"io"
	"os"
	"regexp"
	"strings"

	"golang.org/x/term"
)

// Write writes a text: on a terminal its lines are broken between words, and go on under
// their first word.
func Write(w io.Writer, text string) {
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil && width >= leastWidth {
			text = Wrap(text, width)
		}
	}
	io.WriteString(w, strings.ReplaceAll(text, Hang, ""))
}

// Hang stands before the last cell of a row of a table: where that is broken it goes on
// under its own first word, or all of it below where it has not hangLeast columns. No text
// of a file has it (OnOneLine).
const (
	Hang      = "\x1f"
	hangLeast = 24
)

// leastWidth is what a line is broken to at least: a narrower terminal breaks it itself.
const leastWidth = 40

// Wrap breaks the lines of a text between words, where they are wider than so many columns.
func Wrap(text string, width int) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString(wrapLine(line, width))
	}
	return b.String()
}

// itemHead is what stands before the first word of an item.
var itemHead = regexp.MustCompile(`^[ -]*(?:\d+\. )?`)

// wrapLine breaks a line between its words, and nowhere in a length. Blanks between words
// stay as they are, as columns of a table are made of them.
func wrapLine(line string, width int) string {
	text := strings.TrimSuffix(line, "\n")
	before, cell, isRow := strings.Cut(text, Hang)
	text = before + cell
	if columns(inkless(text)) <= width {
		return strings.Replace(line, Hang, "", 1)
	}
	indent := strings.Repeat(" ", len(itemHead.FindString(text)))
	if isRow {
		if at := columns(before); width-at >= hangLeast {
			indent = strings.Repeat(" ", at)
		} else {
			indent += "    "
			return wrapLine(strings.TrimRight(before, " "), width) + "\n" + wrapLine(indent+cell, width) + line[len(strings.TrimSuffix(line, "\n")):]
		}
	}
	var b strings.Builder
	at := 0 // columns written of this row
	for len(text) > 0 {
		n := len(text) - len(strings.TrimLeft(text, " "))
		blanks, rest := text[:n], text[n:]
		end := wordEnd(rest)
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

// inLength finds a blank within a length, after what stands before it and before what
// stands behind: 0.53 m, 7 ft 11 in, ± 0.12.
var (
	figureEnds = regexp.MustCompile(`(?:^|[^\pL\d])[\d.]+$`)
	unitBegins = regexp.MustCompile(`^(?:mm|cm|km|m|ft|in|mA|Hz|kHz|%)(?:$|[^\pL\d])`)
	inchesNext = regexp.MustCompile(`^\d+ in(?:$|[^\pL\d])`)
)

// wordEnd is where the first word of a text ends, a length with its unit being one.
func wordEnd(text string) int {
	end := 0
	for {
		n := strings.IndexByte(text[end:], ' ')
		if n < 0 {
			return len(text)
		}
		end += n
		word, next := text[:end], text[end+1:]
		switch {
		case unitBegins.MatchString(next) && figureEnds.MatchString(word):
		case strings.HasSuffix(word, " ft") && inchesNext.MatchString(next):
		case strings.HasSuffix(word, "±") && next != "" && next[0] != ' ':
		default:
			return end
		}
		end++
	}
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
