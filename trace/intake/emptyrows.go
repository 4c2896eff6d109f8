package intake

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// emptyRows are rows one after another that have separators and no value, as a
// spreadsheet saves them.
type emptyRows struct{ first, last, n int }

// maxEmptyTold is how many runs of empty rows are told one by one; the rest is
// counted.
const maxEmptyTold = 20

// emptyRow counts a row in which there is no value. It is no reading: nobody took one
// without a place, a time or a figure, and it must not make a line of its own.
func (t *tableReader) emptyRow() bool {
	if t.rec.fault != faultNone {
		return false
	}
	for i := range t.rec.fields {
		if strings.TrimSpace(t.rec.field(i)) != "" {
			return false
		}
	}
	t.table.Unreadable++
	t.emptyN++
	if k := len(t.empty) - 1; k >= 0 && t.empty[k].last+1 == t.rec.line {
		t.empty[k].last, t.empty[k].n = t.rec.line, t.empty[k].n+1
		return true
	}
	t.empty = append(t.empty, emptyRows{t.rec.line, t.rec.line, 1})
	return true
}

// dropClosingEmpty takes back the empty rows behind the last one that holds something: a
// spreadsheet saves as many as somebody once clicked into, and no reading is lost there.
// One between two readings may be a row whose values were deleted.
func (t *tableReader) dropClosingEmpty() {
	if t.lastRow == 0 {
		return // the table has no other: that is told
	}
	k := len(t.empty)
	for ; k > 0 && t.empty[k-1].first > t.lastRow; k-- {
		n := t.empty[k-1].n
		t.table.Rows, t.table.Unreadable, t.emptyN = t.table.Rows-n, t.table.Unreadable-n, t.emptyN-n
	}
	t.empty = t.empty[:k]
}

// tellEmpty reports the empty rows, run by run.
func (t *tableReader) tellEmpty() {
	rest := 0
	for i, e := range t.empty {
		p := trace.Problem{File: t.name, Row: e.first, Cause: "the row is empty: it has no value", Hint: "take it out of the file, or fill in what was read there"}
		switch {
		case i >= maxEmptyTold:
			rest += e.n
			continue
		case e.n > 1:
			p.Cause, p.Hint = fmt.Sprintf("%d rows from here on are empty: they have no value", e.n), emptyHint
		}
		t.table.Problems = append(t.table.Problems, p)
	}
	if rest > 0 {
		t.table.Problems = append(t.table.Problems, trace.Problem{File: t.name, Row: t.empty[maxEmptyTold].first,
			Cause: fmt.Sprintf("%d more rows from here on are empty", rest), Hint: emptyHint})
	}
}

const emptyHint = "take them out of the file, or fill in what was read there"

// tellUnread has the map say that rows could not be read, at the first of them: a
// reading was taken there, and nothing is drawn from it. An empty row was none.
func (t *tableReader) tellUnread() {
	n := t.table.Unreadable - t.emptyN - len(t.hashed)
	if n == 0 {
		return
	}
	p := &t.table.Problems[slices.IndexFunc(t.table.Problems, func(p trace.Problem) bool { return !p.Warn && p.Cause != hashedCause })]
	p.Check = remark.RowsUnread{Table: t.name, N: n, Of: t.table.Rows - t.emptyN, FirstLine: p.Row}
}
