package trace

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode/utf8"
)

// TableOptions say how a readings table is read.
type TableOptions struct {
	// Columns maps a name of ours, unit included, to the file's own header.
	Columns map[string]string
	// WithoutPosition allows a table that has times instead of positions.
	WithoutPosition bool
}

// Table is what a readings table held. Rows = len(Readings) + Unreadable.
type Table struct {
	Readings   []Reading
	Unreadable int
	Problems   []Problem
	Columns    []TableColumn
}

// TableColumn is one column of a file as it was understood.
type TableColumn struct {
	Header string // as the file has it
	Name   string // ours, with its unit; empty where the column is not used
	Filled int    // rows with a value
}

// maxWarnings is how many dropped values of one file are told one by one; the
// rest is counted.
const maxWarnings = 1000

// maxShown is how much of a wrong value is shown.
const maxShown = 40

// ReadTable reads a readings table. name is the file's, for messages and as the
// default line; file is its index in the job. A row whose position cannot be
// read, or whose fields do not fit the header, is unreadable and reported; any
// other value that cannot be read is left out with a warning and the row
// stands. The error is for files that are no readings table at all.
//
// A row with fewer or more fields than the header is unreadable even if only
// its end is missing: a file cut off while it was written would otherwise end in
// half a number.
func ReadTable(r io.Reader, name string, file int32, opt TableOptions) (Table, error) {
	buf := bufio.NewReaderSize(r, 1<<16)
	comma, err := sniff(buf, name)
	if err != nil {
		return Table{}, err
	}
	rd := &tableReader{name: name, file: file, opt: opt, decimalComma: comma != ',', interned: map[string]string{}}
	rd.defaultLine = strings.TrimSuffix(path.Base(name), path.Ext(name))
	rd.csv = csv.NewReader(newRowGuard(buf, comma))
	rd.csv.Comma, rd.csv.Comment = comma, '#'
	rd.csv.FieldsPerRecord, rd.csv.LazyQuotes, rd.csv.ReuseRecord = -1, true, true
	if err := rd.header(); err != nil {
		return Table{}, err
	}
	if err := rd.rows(); err != nil {
		return Table{}, err
	}
	return rd.table, nil
}

// tableReader is the state of reading one table.
type tableReader struct {
	name         string
	file         int32
	opt          TableOptions
	csv          *csv.Reader
	decimalComma bool
	defaultLine  string
	interned     map[string]string
	use          []column // one a file column; zero where not used
	table        Table
	warnings     int
}

// header matches the file's columns with ours.
func (t *tableReader) header() error {
	record, err := t.csv.Read()
	if err == io.EOF {
		return &Problem{File: t.name, Cause: "the file is empty", Hint: "a readings table has a header row and one row a reading"}
	}
	if err != nil {
		return t.fileProblem(err)
	}
	headers := make([]string, len(record))
	seen := map[string]int{}
	for i, h := range record {
		headers[i] = strings.TrimSpace(h)
		if !utf8.ValidString(h) {
			return t.at(i, headers[i], "the header is not UTF-8 text", "save the table as CSV in UTF-8")
		}
		key := strings.ToLower(headers[i])
		if j, again := seen[key]; again && key != "" {
			return t.at(i, headers[i], fmt.Sprintf("columns %d and %d have the same header", j+1, i+1), "rename or delete one of them")
		}
		seen[key] = i
	}
	names, err := t.match(headers, seen)
	if err != nil {
		return err
	}
	byField := map[string]int{}
	t.use = make([]column, len(headers))
	for i, n := range names {
		t.table.Columns = append(t.table.Columns, TableColumn{Header: headers[i], Name: n})
		if n == "" {
			if headers[i] != "" {
				p := t.at(i, headers[i], "this column is not known and not used", unknownHint(headers[i]))
				p.Warn = true
				t.table.Problems = append(t.table.Problems, *p)
			}
			continue
		}
		c := columns[n]
		if j, again := byField[c.field]; again {
			return t.at(i, headers[i], fmt.Sprintf("this column and %q both give %s", headers[j], c.field), "keep one of them")
		}
		byField[c.field], t.use[i] = i, c
	}
	return t.needPosition(byField, headers)
}

// match names each file column: by the column map first, else by its header.
func (t *tableReader) match(headers []string, seen map[string]int) ([]string, error) {
	names := make([]string, len(headers))
	for ours, theirs := range t.opt.Columns {
		i, ok := seen[strings.ToLower(strings.TrimSpace(theirs))]
		if !ok {
			if _, own := seen[ours]; own {
				continue
			}
			hint := "the file has " + quoteAll(headers)
			if near := nearest(theirs, headers); near != "" {
				hint = fmt.Sprintf("the nearest header is %q", near)
			}
			return nil, &Problem{File: t.name, Row: 1, Field: ours, Value: theirs,
				Cause: "the column map names a header that this file does not have", Hint: hint}
		}
		if names[i] != "" {
			return nil, t.at(i, headers[i], fmt.Sprintf("the column map gives this column to both %s and %s", names[i], ours), "give each name its own column")
		}
		names[i] = ours
	}
	for i, h := range headers {
		if _, known := columns[strings.ToLower(h)]; names[i] == "" && known {
			names[i] = strings.ToLower(h)
		}
	}
	return names, nil
}

// needPosition makes sure that rows can have a position.
func (t *tableReader) needPosition(byField map[string]int, headers []string) error {
	_, lat := byField["lat"]
	_, lon := byField["lon"]
	_, east := byField["east"]
	_, north := byField["north"]
	_, hasTime := byField["time"]
	switch {
	case lat && lon || east && north:
		return nil
	case t.opt.WithoutPosition && hasTime:
		return nil
	}
	missing := "lat and lon (or east_m and north_m)"
	switch {
	case lat:
		missing = "lon"
	case lon:
		missing = "lat"
	case east:
		missing = "north_m"
	case north:
		missing = "east_m"
	}
	return &Problem{File: t.name, Row: 1, Cause: "there is no column " + missing + "; the file has " + quoteAll(headers),
		Hint: "name the position columns in the job file under [columns], or join a GNSS log by time with --gnss-log"}
}

// rows reads every record behind the header.
func (t *tableReader) rows() error {
	for {
		record, err := t.csv.Read()
		if err == io.EOF {
			break
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) && parse.Err != errLongRow && parse.Err != errBinary {
			t.unreadable(&Problem{File: t.name, Row: parse.StartLine, Column: parse.Column, Cause: parse.Err.Error(),
				Hint: "check the quotes in this row"})
			continue
		}
		if err != nil {
			return t.fileProblem(err)
		}
		t.row(record)
	}
	if dropped := t.warnings - maxWarnings; dropped > 0 {
		t.table.Problems = append(t.table.Problems, Problem{File: t.name, Warn: true,
			Cause: fmt.Sprintf("%d more values could not be read and were left out", dropped)})
	}
	return nil
}

// row turns one record into a reading, or reports it.
func (t *tableReader) row(record []string) {
	if len(record) != len(t.use) {
		line, _ := t.csv.FieldPos(0)
		hint := "check the separators and quotes in this row"
		if !t.decimalComma && len(record) > len(t.use) {
			hint = "a comma inside a number or a text needs quotes, or another separator"
		}
		t.unreadable(&Problem{File: t.name, Row: line, Cause: fmt.Sprintf("the row has %d fields where the header has %d", len(record), len(t.use)), Hint: hint})
		return
	}
	line, _ := t.csv.FieldPos(0)
	r := NewReading()
	r.File, r.Row, r.Line = t.file, int32(line), t.defaultLine
	for i, c := range t.use {
		text := strings.TrimSpace(record[i])
		if c.set == nil || text == "" {
			continue
		}
		t.table.Columns[i].Filled++
		if err := c.set(&r, t.plain(c, text)); err != nil {
			p := t.at(i, text, err.Error(), "the value is left out; the rest of the row is used")
			p.Field = t.table.Columns[i].Header
			if isPosition(c.field) {
				p.Hint = "the row cannot be placed; correct the value"
				t.unreadable(p)
				return
			}
			t.warn(p)
		}
	}
	t.table.Readings = append(t.table.Readings, r)
}

// plain makes a field's text ready for its setter: a decimal comma becomes a
// point in numbers, and texts that repeat are kept once.
func (t *tableReader) plain(c column, text string) string {
	switch c.field {
	case "point", "note", "line":
		if !utf8.ValidString(text) {
			text = strings.ToValidUTF8(text, "\uFFFD")
		}
		if s, ok := t.interned[text]; ok {
			return s
		}
		s := strings.Clone(text)
		if c.field != "point" && len(t.interned) < 1<<16 {
			t.interned[s] = s
		}
		return s
	case "time", "phase", "hookup", "exposed", "fix":
		return text
	}
	if t.decimalComma && strings.IndexByte(text, ',') >= 0 {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

func isPosition(field string) bool {
	return field == "lat" || field == "lon" || field == "east" || field == "north"
}

func (t *tableReader) unreadable(p *Problem) {
	t.table.Unreadable++
	t.table.Problems = append(t.table.Problems, *p)
}

func (t *tableReader) warn(p *Problem) {
	p.Warn = true
	if t.warnings++; t.warnings <= maxWarnings {
		t.table.Problems = append(t.table.Problems, *p)
	}
}

// at words a problem with the field just read. The column is in characters, as
// an editor counts them.
func (t *tableReader) at(field int, value, cause, hint string) *Problem {
	line, col := t.csv.FieldPos(field)
	if len(value) > maxShown {
		value = strings.ToValidUTF8(value[:maxShown], "") + "…"
	}
	return &Problem{File: t.name, Row: line, Column: col, Value: value, Cause: cause, Hint: hint}
}

// fileProblem words an error that ends the reading of the whole file.
func (t *tableReader) fileProblem(err error) error {
	line := 0
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		line, err = parse.Line, parse.Err
	}
	switch {
	case errors.Is(err, errLongRow):
		return &Problem{File: t.name, Row: line, Cause: fmt.Sprintf("a row is longer than %d MB", maxRowBytes>>20), Err: err,
			Hint: "this is not a readings table, or a quote is never closed"}
	case errors.Is(err, errBinary):
		return &Problem{File: t.name, Row: line, Cause: "the file holds binary data, not text", Err: err,
			Hint: "export the readings as CSV in UTF-8"}
	}
	return &Problem{File: t.name, Row: line, Cause: err.Error(), Err: err, Hint: "check that the file can be read to its end"}
}

func unknownHint(header string) string {
	if near := nearest(strings.ToLower(header), ColumnNames()); near != "" {
		return fmt.Sprintf("if it is meant to be %q, rename it or name it in the job file under [columns]", near)
	}
	return "if it is needed, give it a name of ours in the job file under [columns]"
}

func quoteAll(headers []string) string {
	const most = 20
	var b strings.Builder
	for i, h := range headers {
		if i == most {
			fmt.Fprintf(&b, " and %d more", len(headers)-most)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		if len(h) > maxShown {
			h = strings.ToValidUTF8(h[:maxShown], "") + "…"
		}
		fmt.Fprintf(&b, "%q", h)
	}
	return b.String()
}
