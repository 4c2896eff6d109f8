package intake

import (
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"loamline.example/trace"
)

// TableOptions say how a readings table is read.
type TableOptions struct {
	// Columns maps a name of ours, unit included, to the file's own header.
	Columns map[string]string
	// WithoutPosition allows a table that has times instead of positions.
	WithoutPosition bool
	// Bytes is the size of the file where it is known: memory is then set aside
	// once instead of growing.
	Bytes int64
}

// Table is what a readings table held. Rows = len(Readings) + Unreadable.
type Table struct {
	Rows       int // rows below the header; comments and empty lines are none
	Readings   []trace.Reading
	Unreadable int
	Problems   []trace.Problem
	Columns    []TableColumn
	// Passed are names of ours for which the column map has a header that this table
	// has not, and whose own column was read in its place.
	Passed []string
}

// TableColumn is one column of a file as it was understood.
type TableColumn struct {
	Header string // as the file has it
	Name   string // ours, with its unit; empty where the column is not used
	Filled int    // rows with a value

	Row, Column int // where its header stands in the file: line and character, from 1
}

// maxWarnings is how many dropped values of one file are told one by one; the
// rest is counted.
const maxWarnings = 1000

// ReadTable reads a readings table. name is the file's, for messages and as the
// default line; file is its index in the job. The error is for files that are
// no readings table at all.
//
// Every row becomes a reading or is counted and reported as unreadable: one
// whose position or lift cannot be read (nobody could say where it is, or that
// it is a point of the line), one whose fields do not fit the header, one
// without any value, and one that is no text. Any other value that cannot be read is left out with a
// warning, and the row stands.
//
// A row with fewer fields than the header is unreadable even if only its end
// seems to be missing: in a file cut off while it was written, or in a row that
// lost a field in its middle, half a number or a neighbour's would count.
// Empty fields too many at the end are no harm, unless a decimal comma made them.
func ReadTable(r io.Reader, name string, file int32, opt TableOptions) (Table, error) {
	t, err := openTable(r, name, file, opt)
	if err != nil {
		return Table{}, err
	}
	if err := t.needPosition(); err != nil {
		return Table{}, err
	}
	for {
		if t.rec, err = t.scan.next(len(t.use)); err != nil {
			break
		}
		t.table.Rows++
		if t.table.Rows == sampleRows {
			t.reserve()
		}
		if t.emptyRow() {
			continue
		}
		if t.lastRow = t.rec.line; t.hashedRow() {
			continue
		}
		t.row()
	}
	if p := t.ended(err); p != nil {
		return Table{}, p
	}
	t.dropClosingEmpty()
	if p := t.checkSplit(); p != nil {
		return Table{}, p
	}
	if p := t.checkAbsorbed(); p != nil {
		return Table{}, p
	}
	if p := t.checkDegrees(); p != nil {
		return Table{}, p
	}
	if p := t.checkHemispheres(); p != nil {
		return Table{}, p
	}
	t.tellUnread()
	t.tellEmpty()
	t.tellHashed()
	t.tellMisnamed()
	t.tellLost()
	t.tellMarks()
	if more := t.warnings - maxWarnings; more > 0 {
		t.table.Problems = append(t.table.Problems, trace.Problem{File: name, Warn: true,
			Cause: fmt.Sprintf("%d more values could not be read and were left out", more), Hint: "correct the first ones; the others are likely of their kind"})
	}
	return t.table, nil
}

// openTable reads a table up to its header.
func openTable(r io.Reader, name string, file int32, opt TableOptions) (*tableReader, error) {
	scan, err := sniff(r, name, opt.isColumn)
	if err != nil {
		return nil, err
	}
	t := &tableReader{name: name, file: file, opt: opt, scan: scan, decimalComma: scan.comma != ',', interned: map[string]string{}}
	if t.defaultLine = strings.TrimSuffix(name, path.Ext(name)); path.Base(t.defaultLine) == "." || strings.HasSuffix(t.defaultLine, "/") {
		t.defaultLine = name
	}
	return t, t.header()
}

// tableReader is the state of reading one table.
type tableReader struct {
	name         string
	file         int32
	opt          TableOptions
	scan         *rowScanner
	rec          *record
	decimalComma bool
	defaultLine  string
	interned     map[string]string
	use          []column // one a file column; zero where not used
	headerRow    int
	lastRow      int // the line of the last one that holds something
	table        Table
	warnings     int
	misnamed     []misnamed
	lost, marks  []int // by column: values that could not be read, and cells that say that there is none
	empty        []emptyRows
	emptyN       int   // rows without a value
	hashed       []int // lines that begin with # and hold a reading
	split        splitRows
	absorbed     []absorbed
}

// sampleRows is after how many rows the number of all is guessed.
const sampleRows = 512

// reserve makes room for as many readings as the file seems to hold.
func (t *tableReader) reserve() {
	if rows := t.opt.Bytes / (t.scan.taken/sampleRows + 1); rows > sampleRows {
		t.table.Readings = slices.Grow(t.table.Readings, int(rows+rows/16))
	}
}

// ended words why there are no more records, nil at the file's honest end.
func (t *tableReader) ended(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return readProblem(t.name, t.scan.line+1, err)
}

// row turns the record into a reading, or reports it.
func (t *tableReader) row() {
	if p := t.misshapen(); p != nil {
		t.unreadable(p)
		return
	}
	split := t.countSplit()
	t.countAbsorbed()
	r := trace.NewReading()
	r.File, r.Row, r.Line = t.file, int32(t.rec.line), t.defaultLine
	t.countMisnamed()
	marks := t.decimalMarks()
	for i, c := range t.use {
		if c.name == "" {
			continue
		}
		text := strings.TrimSpace(t.rec.field(i))
		if text == "" {
			continue
		}
		if c.text == nil && isNone(text) && (c.vital == "" || c.vital == vitalLift) {
			t.marks[i]++
			continue
		}
		t.table.Columns[i].Filled++
		if c.number && marks.parts(text) {
			p := t.at(i, text, "the comma or point may separate thousands", "write the number without it, such as 33000; the value is left out")
			p.Field = t.table.Columns[i].Header
			if c.vital != "" {
				p.Hint = c.vital
				t.unreadable(p)
				return
			}
			t.lose(i, text)
			t.warn(p)
			continue
		}
		if c.text != nil {
			*c.text(&r) = t.keep(c, i, text)
			continue
		}
		if err := c.set(&r, t.plain(c, text)); err != nil {
			p := t.at(i, text, err.Error(), "the value is left out; the rest of the row is used")
			p.Field = t.table.Columns[i].Header
			if c.vital != "" {
				p.Hint = c.vital
				t.unreadable(p)
				return
			}
			t.lose(i, text)
			t.warn(p)
		}
	}
	if split {
		t.split.readings = append(t.split.readings, len(t.table.Readings))
	}
	t.table.Readings = append(t.table.Readings, r)
}

// misshapen says why a record is no row of this table, nil if it is one.
func (t *tableReader) misshapen() *trace.Problem {
	rec, want := t.rec, len(t.use)
	n := len(rec.fields)
	for n > want && strings.TrimSpace(rec.field(n-1)) == "" {
		n--
	}
	if rec.fault == faultNone && n == want {
		return nil // as nearly all are
	}
	p := &trace.Problem{File: t.name, Row: rec.line}
	switch {
	case rec.fault == faultLong:
		p.Cause, p.Hint = fmt.Sprintf("the row is longer than %d MB", maxLineBytes>>20), "the file is damaged here; export it again"
		return p
	case rec.fault == faultBinary:
		p.Cause, p.Hint = "the row holds binary data, not text", "the file is damaged here; export it again"
		return p
	case rec.fault != faultNone:
		p.Row, p.Column = rec.position(rec.at)
		p.Cause, p.Hint = "a quote is never closed", "close it, or double a quote inside a quoted text"
		if rec.fault == faultQuote {
			p.Cause, p.Hint = "there is text after a closing quote", "double a quote inside a quoted text"
		}
		if !rec.mended {
			return p
		}
		t.warn(p)
	}
	if n == want {
		return nil
	}
	p.Cause, p.Hint = fmt.Sprintf("the row has %d fields where the header has %d", n, want), "check the separators and quotes in this row"
	switch {
	case n < want && rec.cut:
		p.Hint = "the file ends in the middle of this row; export it again"
	case n > want && !t.decimalComma:
		p.Hint = "a comma inside a number or a text needs quotes, or another separator"
	}
	return p
}

// keep returns a text of its own for a reading; those that repeat are kept once.
func (t *tableReader) keep(c column, i int, text string) string {
	if s, ok := t.interned[text]; ok {
		return s
	}
	s := t.bounded(c, i, text)
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
		p := t.at(i, text, "this is not UTF-8 text", "the row is used; the characters that cannot be read are replaced. "+saveAsCSV)
		p.Field = t.table.Columns[i].Header
		t.warn(p)
	} else if c.field != "point" && len(t.interned) < 1<<16 {
		t.interned[s] = s
	}
	return s
}

// plain turns a decimal comma into a point.
func (t *tableReader) plain(c column, text string) string {
	if c.number && t.decimalComma && strings.IndexByte(text, ',') >= 0 {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

func (t *tableReader) unreadable(p *trace.Problem) {
	t.table.Unreadable++
	t.table.Problems = append(t.table.Problems, *p)
}

func (t *tableReader) warn(p *trace.Problem) {
	p.Warn = true
	if t.warnings++; t.warnings <= maxWarnings {
		t.table.Problems = append(t.table.Problems, *p)
	}
}

// at words a problem with a field of the record.
func (t *tableReader) at(field int, value, cause, hint string) *trace.Problem {
	line, column := t.rec.position(t.rec.fields[field].from)
	return &trace.Problem{File: t.name, Row: line, Column: column, Value: strings.Clone(trace.Shorten(value)), Cause: cause, Hint: hint}
}
