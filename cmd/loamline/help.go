package main

import (
	"bytes"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/summary"
)

// helpColumns is how wide a line of the help may be: that of the narrowest terminal in
// use (common practice, no source).
const helpColumns = 80

// helpHangMost is the farthest to the right that the words of an entry begin; those of a
// longer name begin below it.
const helpHangMost = 30

// entry is a line of the help that says of a name what it is.
var entry = regexp.MustCompile(`^( +\S(?:.*?\S)??)( {2,})(\S.*)`)

func init() {
	printed := cli.HelpPrinter
	cli.HelpPrinter = func(w io.Writer, templ string, data any) {
		var b bytes.Buffer
		printed(&b, templ, data)
		_, _ = io.WriteString(w, wrappedHelp(b.String())) // help that nobody takes helps nobody
	}
}

// wrappedHelp breaks what is wider than a terminal between words: those of an entry go on
// below where they began. The commands of examples are copied whole.
func wrappedHelp(help string) string {
	var b strings.Builder
	for line := range strings.Lines(help) {
		if !example(line) {
			line = summary.Wrap(entry.ReplaceAllStringFunc(line, besideOrBelow), helpColumns)
		}
		b.WriteString(line)
	}
	return b.String()
}

// besideOrBelow is an entry with its words beside its name, or below a long one.
func besideOrBelow(line string) string {
	m := entry.FindStringSubmatch(line)
	name, words := utf8.RuneCountInString(m[1]), min(utf8.RuneCountInString(m[1]+m[2]), helpHangMost)
	if name+2 > words {
		return m[1] + "\n" + strings.Repeat(" ", words) + m[3]
	}
	return m[1] + strings.Repeat(" ", words-name) + summary.Hang + m[3]
}

// example reports a command that is copied whole.
func example(line string) bool {
	return strings.HasPrefix(strings.TrimLeft(line, " "), "loamline ") && !strings.Contains(line, " - ")
}
