package jobs

import (
	"os"

	"loamline.example/cmd/loamline/internal/serve/report"
)

// Ledger returns rows of a finished run, from the given one on; status filters
// where it is not empty.
func (s *Store) Ledger(id string, number int, status string, from, most int) (report.LedgerPage, error) {
	f, run, err := s.openRun(id, number, "ledger.jsonl")
	if err != nil {
		return report.LedgerPage{From: from, Rows: []report.LedgerRow{}}, err
	}
	defer f.Close()
	return report.ReadLedgerPage(f, run.rows(), status, from, most)
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
