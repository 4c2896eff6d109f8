package summary

import (
	"fmt"
	"io"
	"slices"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// maxProblems is how many kinds of problems the short summary tells at most.
const maxProblems = 6

// tellProblems tells the first problem of so many kinds in full and counts the others:
// what costs the map more than a row first, then what is about a whole file, then what
// made rows unreadable. A column of figures that are none makes as many problems as it
// has rows, and hides no other. Of no kind it says how many problems there are.
func tellProblems(w io.Writer, k ink, s *trace.Sheet, kinds int) {
	if len(s.Problems) == 0 {
		return
	}
	type kind struct{ file, field, cause string }
	var firsts []*trace.Problem
	alike := map[kind]int{}
	of := func(p *trace.Problem) kind {
		switch {
		case p.Row == 0:
			return kind{p.File, p.Field, p.Error()}
		case p.Field == "": // of a column that is none of ours Value is the header
			return kind{p.File, p.Value, p.Cause}
		}
		return kind{p.File, p.Field, p.Cause}
	}
	problems := words.Problems(s)
	for i := range problems {
		p := &problems[i]
		if alike[of(p)]++; alike[of(p)] == 1 {
			firsts = append(firsts, p)
		}
	}
	slices.SortStableFunc(firsts, func(a, b *trace.Problem) int { return urgency(a) - urgency(b) })
	if kinds == 0 {
		fmt.Fprintf(w, "%s --verbose and the files list them all\n", k.in(inkWarn, Plural(len(s.Problems), "problem")+" in the input:"))
		return
	}
	fmt.Fprintf(w, "%s\n", k.in(inkWarn, Plural(len(s.Problems), "problem")+" in the input:"))
	told := 0
	for _, p := range firsts[:min(kinds, len(firsts))] {
		text := OnOneLine(p.Error())
		n := alike[of(p)]
		if told += n; n > 1 {
			text += fmt.Sprintf(" (and %d more like it)", n-1)
		}
		fmt.Fprintf(w, "  - %s\n", text)
	}
	if more := len(s.Problems) - told; more > 0 {
		fmt.Fprintf(w, "  … and %d more: --verbose and the files list them all\n", more)
	} else if told > min(kinds, len(firsts)) {
		fmt.Fprintln(w, "  --verbose and the files list them all")
	}
}

func urgency(p *trace.Problem) int {
	switch {
	case p.Check != nil:
		return 0
	case p.Row == 0:
		return 1
	case !p.Warn:
		return 2
	case p.Field != "":
		return 3
	}
	return 4 // a column that is none of ours, of which an export may have many
}
