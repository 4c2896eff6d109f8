package trace

import (
	"cmp"
	"fmt"
	"strings"
)

// Problem is something wrong with an input: where it is, what it is and what
// to do about it. It is an error, and the map carries every Problem that did
// not stop the run.
type Problem struct {
	File   string // empty for a setting that came from no file
	Row    int    // line of the file, from 1; 0 where the whole file is meant
	Column int    // character in the line, from 1; 0 where unknown
	Field  string // column or key name, where one is meant
	Place  string // the same as people name it, where a list counts from 0; empty: Field says it
	Value  string // the text found, cut to a readable length
	Cause  string // what is wrong
	Remark Remark // the same, where it has figures for people: export/words.Problems makes the cause of it
	Hint   string // what to do
	Warn   bool   // a warning: the row or file was still used
	Check  Remark // what to check before digging for it; nil where the map is none the worse
	Err    error  // wrapped cause, if any
}

// Error words the problem as file:line:column: what is wrong; what to do.
func (p *Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File)
		if p.Row > 0 {
			fmt.Fprintf(&b, ":%d", p.Row)
			if p.Column > 0 {
				fmt.Fprintf(&b, ":%d", p.Column)
			}
		}
		b.WriteString(": ")
	}
	if place := cmp.Or(p.Place, p.Field); place != "" {
		fmt.Fprintf(&b, "%s: ", place)
	}
	b.WriteString(p.Cause)
	if p.Value != "" {
		fmt.Fprintf(&b, " (%q)", p.Value)
	}
	if p.Hint != "" {
		fmt.Fprintf(&b, "; %s", p.Hint)
	}
	return b.String()
}

// Unwrap returns the wrapped cause.
func (p *Problem) Unwrap() error { return p.Err }

// Shorten cuts a text to a length that a message can carry.
func Shorten(text string) string {
	if len(text) <= maxShown {
		return strings.ToValidUTF8(text, "\uFFFD")
	}
	return strings.ToValidUTF8(text[:maxShown], "\uFFFD") + "…"
}

// maxShown is how many bytes of a wrong value are shown.
const maxShown = 40
