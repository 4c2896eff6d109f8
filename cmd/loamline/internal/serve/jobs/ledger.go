package jobs

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"

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

// writeLedger writes every row of a sheet, one JSON text a line: the rows that
// were not simply used first.
func writeLedger(w io.Writer, s *trace.Sheet) error {
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

// Ledger returns rows of a finished run, from the given one on; status filters
// where it is not empty.
func (s *Store) Ledger(id string, number int, status string, from, most int) (LedgerPage, error) {
	page := LedgerPage{From: from, Rows: []LedgerRow{}}
	f, run, err := s.openRun(id, number, "ledger.jsonl")
	if err != nil {
		return page, err
	}
	defer f.Close()
	err = readLedger(f, run.rows(), func(row LedgerRow) {
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

// readLedger reads every row of a ledger. One that ends before the rows that its map
// counts, or in the middle of a row, was cut on the disk.
func readLedger(r io.Reader, rows int, take func(LedgerRow)) error {
	dec := json.NewDecoder(bufio.NewReaderSize(r, 1<<16))
	for n := 0; ; n++ {
		var row LedgerRow
		switch err := dec.Decode(&row); {
		case err == io.EOF && n < rows:
			return fmt.Errorf("the list of rows has %d of %d: %w", n, rows, ErrAltered)
		case err == io.EOF:
			return nil
		case err != nil:
			return fmt.Errorf("the list of rows: %w: %w", ErrAltered, err)
		}
		take(row)
	}
}

// rows is how many rows the map of a run counts.
func (r *Run) rows() int {
	if r.Summary == nil {
		return 0
	}
	return r.Summary.Counts.Rows
}

// openRun opens a file of a finished run by a name of ours.
func (s *Store) openRun(id string, number int, name string) (*os.File, *Run, error) {
	job, err := s.Job(id)
	if err != nil {
		return nil, nil, err
	}
	r := job.Run(number)
	if r == nil || r.State != StateDone {
		return nil, nil, ErrNoRun
	}
	f, err := os.Open(s.runPath(id, number, name))
	if err != nil {
		return nil, nil, s.missing(id, number, err)
	}
	return f, r, nil
}
