package summary

import (
	"fmt"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// A column full of the same mistake is one problem with a number, and hides no other;
// what costs the map most comes first, and columns that are none of ours last.
func TestProblemsAreToldByKind(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	for i := range 3 {
		s.Problems = append(s.Problems, trace.Problem{File: "a.csv", Row: 1, Column: i + 1, Value: fmt.Sprintf("extra %d", i), Cause: "this column is not known", Warn: true})
	}
	for i := range 60 {
		s.Problems = append(s.Problems, trace.Problem{File: "a.csv", Row: i + 2, Column: 9, Field: "time", Value: "9:30", Cause: "this is not a time", Warn: true})
	}
	s.Problems = append(s.Problems,
		trace.Problem{File: "a.csv", Row: 70, Cause: "the row has 3 fields where the header has 9"},
		trace.Problem{File: "a.csv", Row: 71, Cause: "the row has 3 fields where the header has 9"},
		trace.Problem{File: "b.csv", Cause: "about the whole file", Warn: true},
		trace.Problem{File: "a.csv", Row: 80, Column: 4, Field: "depth_m", Value: "x", Cause: "this is not a number", Warn: true, Check: trace.Verbatim("no depths were read")})
	var b strings.Builder
	tellProblems(&b, false, s, maxProblems)
	want := `67 problems in the input:
  - a.csv:80:4: depth_m: this is not a number ("x")
  - b.csv: about the whole file
  - a.csv:70: the row has 3 fields where the header has 9 (and 1 more like it)
  - a.csv:2:9: time: this is not a time ("9:30") (and 59 more like it)
  - a.csv:1:1: this column is not known ("extra 0")
  - a.csv:1:2: this column is not known ("extra 1")
  … and 1 more: --verbose and the files list them all
`
	if b.String() != want {
		t.Errorf("got %s", b.String())
	}
	b.Reset()
	if tellProblems(&b, false, &trace.Sheet{}, maxProblems); b.Len() > 0 {
		t.Errorf("nothing is a problem: %q", b.String())
	}
}

// Rows are named by runs, each table where there are several.
func TestRowsWords(t *testing.T) {
	one := &trace.Sheet{Inputs: []trace.Input{{Name: "a.csv", Kind: trace.InputTable}, {Name: "job.toml", Kind: trace.InputJobFile}}}
	two := &trace.Sheet{Inputs: []trace.Input{{Name: "a.csv", Kind: trace.InputTable}, {Name: "b.csv", Kind: trace.InputTable}}}
	rows := func(file int32, lines ...int32) (out []words.RowOf) {
		for _, l := range lines {
			out = append(out, words.RowOf{File: file, Row: l})
		}
		return out
	}
	var many []words.RowOf
	for i := range int32(30) {
		many = append(many, words.RowOf{Row: 2 + 2*i})
	}
	for _, c := range []struct {
		s    *trace.Sheet
		rows []words.RowOf
		want string
	}{
		{one, rows(0, 44, 45, 46, 53, 54), "lines 44–46, 53, 54"},
		{one, rows(0, 7), "line 7"},
		{two, append(rows(0, 2, 3, 4), rows(1, 5, 9)...), "lines of a.csv 2–4, of b.csv 5, 9"},
		{one, many, "lines 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24 and 18 more"},
	} {
		if got := rowsWords(c.s, c.rows); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
