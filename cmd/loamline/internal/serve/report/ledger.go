package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// LedgerRow is one row of an input and what became of it.
type LedgerRow struct {
	File   string `json:"file"`
	Row    int    `json:"row"` // line of the file, the first is 1
	Line   string `json:"line,omitempty"`
	Point  string `json:"point,omitempty"`
	Status string `json:"status"` // a reading's, or "unreadable"
	Words  string `json:"words"`
	Reason string `json:"reason,omitempty"`
}

// WriteLedger writes every row of a sheet, one JSON text a line: the rows that
// were not simply used first.
func WriteLedger(w io.Writer, s *trace.Sheet) error {
	enc := json.NewEncoder(w)
	for _, p := range words.Problems(s) {
		if !p.Warn && p.Row > 0 {
			if err := enc.Encode(LedgerRow{File: p.File, Row: p.Row, Status: "unreadable", Words: "could not be read", Reason: p.Error()}); err != nil {
				return err
			}
		}
	}
	for _, plain := range []bool{false, true} {
		for i := range s.Lines {
			for k := range s.Lines[i].Readings {
				r := &s.Lines[i].Readings[k]
				if plain != (r.Status == trace.StatusUsed && r.Reason == nil) {
					continue
				}
				row := LedgerRow{Row: int(r.Row), Line: r.Line, Point: r.Point, Status: string(r.Status), Words: words.Status(r.Status), Reason: words.Remark(s.Job.Units, r.Reason)}
				if int(r.File) < len(s.Inputs) {
					row.File = s.Inputs[r.File].Name
				}
				if err := enc.Encode(row); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// LedgerPage is a part of a run's ledger.
type LedgerPage struct {
	Rows  []LedgerRow `json:"rows"`
	From  int         `json:"from"`  // of the rows that match, from 0
	Total int         `json:"total"` // rows that match
}

// ReadLedger reads every row of a ledger. One that ends before the rows that its map
// counts, or in the middle of a row, was cut on the disk.
func ReadLedger(r io.Reader, rows int, take func(LedgerRow)) error {
	dec := json.NewDecoder(bufio.NewReaderSize(r, 1<<16))
	for n := 0; ; n++ {
		var row LedgerRow
		switch err := dec.Decode(&row); {
		case err == io.EOF && n < rows:
			return fmt.Errorf("the list of rows has %d of %d: %w", n, rows, outputs.ErrAltered)
		case err == io.EOF:
			return nil
		case err != nil:
			return fmt.Errorf("the list of rows: %w: %w", outputs.ErrAltered, err)
		}
		take(row)
	}
}

// ReadLedgerPage reads a ledger of so many rows and keeps most of those that match, from
// the given one on; status filters where it is not empty.
func ReadLedgerPage(r io.Reader, rows int, status string, from, most int) (LedgerPage, error) {
	page := LedgerPage{From: from, Rows: []LedgerRow{}}
	err := ReadLedger(r, rows, func(row LedgerRow) {
		if status != "" && row.Status != status {
			return
		}
		if page.Total >= from && len(page.Rows) < most {
			page.Rows = append(page.Rows, row)
		}
		page.Total++
	})
	return page, err
}
