package main

import (
	"bytes"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"
)

// helpColumns is how wide a line of the help may be: that of the narrowest terminal in
// use (common practice, no source).
const helpColumns = 80

// helpHangMost is the farthest to the right that the words of an entry begin; those of a
// longer name begin below it.
const helpHangMost = 30

// entry is a line of the help that says of a name what it is.
var entry = regexp.MustCompile(`^( +\S.*?\S) {2,}(\S.*)$`)

func init() {
	printed := cli.HelpPrinter
	cli.HelpPrinter = func(w io.Writer, templ string, data any) {
		var b bytes.Buffer
		printed(&b, templ, data)
		_, _ = io.WriteString(w, wrappedHelp(b.String())) // help that nobody takes helps nobody
	}
}

// wrappedHelp breaks what is wider than a terminal between words: the words of an entry
// go on below where they began. A line that is no wider stays as it is, as does a command
// of an example, which is copied whole.
func wrappedHelp(help string) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(help, "\n") {
		text, end := strings.CutSuffix(line, "\n")
		stop := ""
		if end {
			stop = "\n"
		}
		indent := len(text) - len(strings.TrimLeft(text, " "))
		m := entry.FindStringSubmatchIndex(text)
		far := m != nil && utf8.RuneCountInString(text[:m[4]]) > helpHangMost
		switch {
		case utf8.RuneCountInString(text) <= helpColumns && !far || example(text):
			b.WriteString(text)
		case m == nil:
			b.WriteString(wrapped(text[:indent], strings.Repeat(" ", indent), text[indent:]))
		default:
			name, words := text[:m[3]], text[m[4]:]
			hang := min(utf8.RuneCountInString(text[:m[4]]), helpHangMost)
			head := name + strings.Repeat(" ", max(0, hang-utf8.RuneCountInString(name)))
			if utf8.RuneCountInString(name)+2 > hang {
				head = name + "\n" + strings.Repeat(" ", hang)
			}
			b.WriteString(wrapped(head, strings.Repeat(" ", hang), words))
		}
		b.WriteString(stop)
	}
	return b.String()
}

// example reports a command that is copied whole.
func example(line string) bool {
	return strings.HasPrefix(strings.TrimLeft(line, " "), "loamline ") && !strings.Contains(line, " - ")
}

// wrapped are words behind a head, broken before they are too wide.
func wrapped(head, indent, words string) string {
	out, at := head, utf8.RuneCountInString(head[strings.LastIndex(head, "\n")+1:])
	for i, word := range strings.Fields(words) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+n > helpColumns:
			out, at = out+"\n"+indent, len(indent)
		default:
			out, at = out+" ", at+1
		}
		out, at = out+word, at+n
	}
	return out
}
