package intake

import (
	"fmt"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A decimal comma that an empty last column takes in leaves rows that fit the header: each
// value of a column is a whole number, with its decimals in the column behind it.

// absorbed is what speaks for decimal commas in one column. One cell that is no part of a
// number so split ends it.
type absorbed struct {
	column  int
	degrees bool
	rows    int
	zeros   int // of them, decimals such as 09, which nobody writes for a number
	differ  bool
	first   string // the decimals of the first
	shown   string // the number of the first row
	at      place
	noted   int // rows whose last column, for texts, holds a number
	ended   bool
}

const (
	mostDecimals   = 3 // that lengths are written with; judgement
	fewestDegrees  = 4 // decimals of a degree by which a place can be told from another; judgement
	leastZeros     = 1 // judgement: one is none of an instrument's numbers already
	leastAsNumbers = 3 // rows that show it; judgement
)

// mayAbsorb lists the columns whose numbers are seldom whole: lengths in metres and feet,
// and degrees.
func (t *tableReader) mayAbsorb() []absorbed {
	out := []absorbed{}
	for i, c := range t.use {
		degrees := c.field == "lat" || c.field == "lon"
		length := c.number && (strings.HasSuffix(c.name, "_m") || strings.HasSuffix(c.name, "ft")) && c.field != "east" && c.field != "north"
		if i+1 < len(t.use) && (degrees || length) {
			out = append(out, absorbed{column: i, degrees: degrees})
		}
	}
	return out
}

// countAbsorbed looks whether a row that fits the header may have a number in two columns.
func (t *tableReader) countAbsorbed() {
	if t.decimalComma {
		return
	}
	if t.absorbed == nil {
		t.absorbed = t.mayAbsorb()
	}
	for k := range t.absorbed {
		a := &t.absorbed[k]
		if a.ended {
			continue
		}
		whole, rest := strings.TrimSpace(t.rec.field(a.column)), strings.TrimSpace(t.rec.field(a.column+1))
		if whole == "" && rest == "" {
			continue
		}
		least, most := 1, mostDecimals
		if a.degrees {
			least, most = fewestDegrees, finestDegrees
		}
		if !onlyDigits(strings.TrimLeft(whole, "+-")) || !onlyDigits(rest) || len(rest) < least || len(rest) > most {
			a.ended = true
			continue
		}
		if a.rows++; a.rows == 1 {
			a.first, a.shown = strings.Clone(rest), strings.Clone(whole+","+rest)
			a.at.row, a.at.column = t.rec.position(t.rec.fields[a.column].from)
		}
		a.differ = a.differ || rest != a.first
		if len(rest) > 1 && rest[0] == '0' {
			a.zeros++
		}
		last := len(t.use) - 1
		if text := strings.TrimSpace(t.rec.field(last)); last > a.column+1 && t.use[last].text != nil && onlyDigits(strings.Replace(strings.TrimLeft(text, "+-"), ".", "", 1)) {
			a.noted++
		}
	}
}

// finestDegrees is the most decimals that degrees are written with. Judgement.
const finestDegrees = 12

func onlyDigits(text string) bool {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return false
		}
	}
	return text != ""
}

// checkAbsorbed refuses a table whose rows show decimal commas in two ways, or in degrees,
// and tells of one that shows them in one: an instrument may write whole feet, or 085.
func (t *tableReader) checkAbsorbed() *trace.Problem {
	for _, a := range t.absorbed {
		if a.ended || a.rows < leastAsNumbers || !a.differ {
			continue
		}
		zeros, noted := a.zeros >= leastZeros, a.noted == a.rows
		if !a.degrees && !zeros && !noted {
			continue
		}
		header := t.table.Columns[a.column].Header
		p := trace.Problem{File: t.name, Row: a.at.row, Column: a.at.column, Field: header, Value: trace.Shorten(a.shown),
			Cause: fmt.Sprintf("every value of %s is a whole number followed by another one, as decimal commas make in a table whose columns are separated by commas", header),
			Hint:  "write decimal points, or put such numbers in quotes, or separate the columns with semicolons; if they are whole numbers, write them with a decimal point, such as 1.0"}
		if a.degrees || zeros && noted {
			return &p
		}
		p.Warn, p.Check = true, remark.NumbersSplit{Table: t.name, Header: header}
		t.table.Problems = append(t.table.Problems, p)
		return nil
	}
	return nil
}
