package intake

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/trace"
)

// A decimal comma in a table whose columns are parted by commas makes two fields of one
// number: 1,85 is a depth of 1 m, and every value behind it stands a column too far to the
// right. Where the last columns are empty the row still fits the header.

// splitRows are the rows with a field too many that a decimal comma explains.
type splitRows struct {
	rows      int   // with fields too many, empty ones at the end
	explained int   // of them, with whole figures in some column and behind it
	at        []int // by that column
	first     []place
	readings  []int // which readings the first of them became, but for those that became none
}

// place is where something stands in the file, from 1.
type place struct{ row, column int }

const (
	// refusedRows of them, and splitShare of those with fields too many, refuse the table;
	// fewer are left out as unreadable.
	refusedRows = 3
	splitShare  = 0.9
)

// countSplit counts a row that fits the header but for empty fields too many, and reports
// whether a decimal comma explains it and the reading that it becomes is to be noted.
func (t *tableReader) countSplit() (noted bool) {
	if t.decimalComma || len(t.rec.fields) <= len(t.use) {
		return false
	}
	s := &t.split
	if s.at == nil {
		s.at, s.first = make([]int, len(t.use)), make([]place, len(t.use))
	}
	s.rows++
	explained := false
	for i, c := range t.use {
		if !c.number || c.field == "fix" || i+1 >= len(t.use) {
			continue
		}
		whole, rest := strings.TrimSpace(t.rec.field(i)), strings.TrimSpace(t.rec.field(i+1))
		if !isDigits(whole) || !isDigits(rest) || strings.ContainsAny(rest, "+-") {
			continue
		}
		explained = true
		if s.at[i]++; s.at[i] == 1 {
			s.first[i].row, s.first[i].column = t.rec.position(t.rec.fields[i].from)
		}
	}
	if !explained {
		return false
	}
	s.explained++
	return s.explained < refusedRows
}

// checkSplit refuses a table with decimal commas between commas, and leaves single such
// rows out.
func (t *tableReader) checkSplit() *trace.Problem {
	s := &t.split
	column, most := -1, 0
	for i, n := range s.at {
		if n > most {
			column, most = i, n
		}
	}
	if column < 0 || float64(s.explained) < splitShare*float64(s.rows) {
		return nil
	}
	header := t.table.Columns[column].Header
	p := trace.Problem{File: t.name, Row: s.first[column].row, Column: s.first[column].column, Field: header,
		Cause: fmt.Sprintf("the row has one field too many, and %s is a whole number with another one behind it: a decimal comma in a table whose columns are separated by commas", header),
		Hint:  "write decimal points, or put such numbers in quotes, or separate the columns with semicolons; if they are whole numbers, take away the comma that ends each row"}
	if s.explained >= refusedRows {
		p.Cause += fmt.Sprintf(" (%d of %d rows)", s.explained, t.table.Rows)
		return &p
	}
	for _, k := range slices.Backward(s.readings) {
		one := p
		one.Row, one.Column = int(t.table.Readings[k].Row), 0
		t.table.Readings = slices.Delete(t.table.Readings, k, k+1)
		t.unreadable(&one)
	}
	return nil
}
