package intake

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// From how many values of a column, and which share of them, those that could not be
// read are worth a word before digging: one slip of the pen is everyday (judged).
const (
	manyLost      = 3
	manyLostShare = 0.05
)

// noneMarks are what people and programs write where there is no value: a cell that holds
// one is as good as empty. "?" is none: there was something.
var noneMarks = map[string]bool{"-": true, "--": true, "---": true, "–": true, "—": true, "n/a": true, "na": true, "#n/a": true,
	"none": true, "null": true, "nan": true}

// isNone reports whether a cell holds one; what begins with a digit never does.
func isNone(text string) bool {
	return !('0' <= text[0] && text[0] <= '9') && noneMarks[strings.ToLower(text)]
}

// lose counts a value of a column that could not be read.
func (t *tableReader) lose(i int, text string) {
	if text != "?" {
		t.lost[i]++
	}
}

// tellMarks warns of a column that holds nothing but marks for none, as of one that is not
// read: empty cells are seen in the file, and these may have been meant otherwise.
func (t *tableReader) tellMarks() {
	for i, c := range t.table.Columns {
		switch cost := costOf(t.use[i].field); cost {
		case "", remark.CostExposed, remark.CostLift: // a dash is a no there
			continue
		}
		if n := t.marks[i]; n > 0 && c.Filled == 0 {
			t.table.Problems = append(t.table.Problems, trace.Problem{File: t.name, Row: c.Row, Column: c.Column, Field: c.Header, Warn: true,
				Cause: fmt.Sprintf("%d cells of this column say that there is no value, and none has one", n), Hint: "take the column out of the table, or fill in what was read"})
		}
	}
}

// tellLost has the map say what it does without columns whose values could not be
// read, at the first problem of each.
func (t *tableReader) tellLost() {
	for i, c := range t.use {
		n, of := t.lost[i], t.table.Columns[i].Filled
		cost := costOf(c.field)
		if n == 0 || cost == "" || cost != remark.CostExposed && n < of && (n < manyLost || float64(n) <= manyLostShare*float64(of)) {
			continue
		}
		header := t.table.Columns[i].Header
		k := slices.IndexFunc(t.table.Problems, func(p trace.Problem) bool { return p.Field == header && p.Row > t.headerRow })
		if k < 0 { // there were too many to tell one by one
			k = len(t.table.Problems)
			t.table.Problems = append(t.table.Problems, trace.Problem{File: t.name, Row: t.headerRow, Column: t.table.Columns[i].Column, Field: header, Warn: true,
				Cause: fmt.Sprintf("%d values of this column could not be read and were left out", n), Hint: "correct them in the file"})
		}
		t.table.Problems[k].Check = remark.ColumnLost{Table: t.name, Header: header, N: n, Of: of, Cost: cost}
	}
}
