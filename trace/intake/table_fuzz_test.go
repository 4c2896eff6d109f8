package intake

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"loamline.example/trace"
)

// Whatever a file holds, every row is a reading or told, and messages lead into
// the file.
func FuzzReadTable(f *testing.F) {
	tables, err := filepath.Glob("testdata/tables/*")
	if err != nil || len(tables) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, name := range tables {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		table, err := ReadTable(bytes.NewReader(text), "walk.csv", 0, TableOptions{WithoutPosition: true})
		if err != nil {
			var p *trace.Problem
			if !errors.As(err, &p) || p.Cause == "" || p.Hint == "" {
				t.Fatalf("%v is no problem that helps", err)
			}
			return
		}
		checkLedger(t, table, string(text))
	})
}

// checkLedger adds up a table's rows, and counts them without the reader where
// no quotes stand in the way.
func checkLedger(t *testing.T, table Table, text string) {
	t.Helper()
	if table.Rows != len(table.Readings)+table.Unreadable {
		t.Fatalf("%d rows, %d readings, %d unreadable", table.Rows, len(table.Readings), table.Unreadable)
	}
	told, lines := 0, 1+strings.Count(text, "\n")
	if !strings.Contains(text, "\n") {
		lines = 1 + strings.Count(text, "\r")
	}
	for i := range table.Problems {
		p := &table.Problems[i]
		if !p.Warn {
			told += max(1, emptyTold(p))
		}
		if p.Row < 0 || p.Row > lines || p.Column < 0 || !utf8.ValidString(p.Value) || p.Cause == "" || p.Hint == "" {
			t.Fatalf("problem %+v in %d lines", *p, lines)
		}
	}
	if told != table.Unreadable {
		t.Fatalf("%d unreadable, %d told", table.Unreadable, told)
	}
	for i := range table.Readings {
		if r := &table.Readings[i]; int(r.Row) <= 1 || int(r.Row) > lines || r.Line == "" && r.Status == "" || !utf8.ValidString(r.Note) || i > 0 && r.Row <= table.Readings[i-1].Row {
			t.Fatalf("reading %+v in %d lines", *r, lines)
		}
	}
	if strings.ContainsAny(text, "\"\r") {
		return
	}
	rows := -1 // the header
	for _, line := range strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n") {
		if strings.Trim(line, " ") != "" && !strings.HasPrefix(line, "#") {
			rows++
		}
	}
	if rows != table.Rows {
		t.Fatalf("%d rows in the file, %d read", rows, table.Rows)
	}
}

// The same tables, whole and cut off after every byte.
func TestTablesCutAnywhere(t *testing.T) {
	names, err := filepath.Glob("testdata/tables/*.csv")
	if err != nil || len(names) < 5 {
		t.Fatal("tables are missing", err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for n := len(text); n > 0; n-- {
			table, err := ReadTable(bytes.NewReader(text[:n]), filepath.Base(name), 0, TableOptions{WithoutPosition: true})
			if err == nil {
				checkLedger(t, table, string(text[:n]))
			}
		}
	}
}
