package jobs

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/trace/intake"
)

// Trouble is something in the folder of jobs that is not as it was stored.
type Trouble struct {
	Job   string `json:"job"`
	Where string `json:"where,omitempty"` // which input, run or output
	Words string `json:"words"`
}

// Unreadable lists the jobs whose record could not be read at the start. Their
// files are kept as they are.
func (s *Store) Unreadable() []Trouble { return slices.Clone(s.unreadable) }

// Check reads everything that is stored, and tells what was altered, cut or
// lost. It changes nothing.
func (s *Store) Check(ctx context.Context) ([]Trouble, error) {
	out := s.Unreadable()
	found, _ := s.Search(Query{})
	for i := range found {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		out = append(out, s.checkJob(ctx, &found[i])...)
	}
	return out, nil
}

func (s *Store) checkJob(ctx context.Context, j *Job) []Trouble {
	var out []Trouble
	tell := func(where, format string, a ...any) {
		out = append(out, Trouble{j.ID, where, fmt.Sprintf(format, a...)})
	}
	for i, f := range j.Files {
		sum, n, err := disk.Sum(ctx, s.inputPath(j.ID, i))
		switch {
		case errors.Is(err, os.ErrNotExist):
			tell(f.Name, "the file that was handed in is not there")
		case err != nil:
			tell(f.Name, "the file that was handed in cannot be read")
		case n < f.Bytes:
			tell(f.Name, "the file that was handed in is truncated: %d of %d bytes are there", n, f.Bytes)
		case sum != f.SHA256:
			tell(f.Name, "the file that was handed in was altered")
		}
	}
	for _, r := range j.Runs {
		if r.State != StateDone {
			continue
		}
		run := "run " + strconv.Itoa(r.Number)
		var res report.Result
		if err := disk.ReadJSON(s.runPath(j.ID, r.Number, "result.json"), &res); err != nil {
			tell(run, "what it found cannot be read")
			continue
		}
		if err := s.checkLedger(ctx, j.ID, &r); errors.Is(err, os.ErrNotExist) {
			tell(run, "the list of its rows is not there")
		} else if err != nil {
			tell(run, "the list of its rows was altered or truncated")
		}
		if slices.ContainsFunc(res.Files, func(o outputs.File) bool { return o.Unmade }) {
			if err := disk.ReadJSON(s.runPath(j.ID, r.Number, madeOfFile), new(madeOf)); err != nil {
				tell(run, "what it was made of cannot be read, so that nothing more of it can be made")
			}
		}
		for _, o := range res.Files {
			if o.Unmade {
				continue
			}
			if err := s.checkOutput(ctx, j.ID, r.Number, o); errors.Is(err, os.ErrNotExist) {
				tell(run+", "+o.Name, "the file is not there")
			} else if err != nil {
				tell(run+", "+o.Name, "the file was altered or truncated")
			}
		}
	}
	return out
}

func (s *Store) checkLedger(ctx context.Context, id string, r *Run) error {
	f, err := os.Open(s.runPath(id, r.Number, "ledger.jsonl"))
	if err != nil {
		return err
	}
	defer f.Close()
	return report.ReadLedger(intake.ReaderUntil(ctx, f), r.rows(), func(report.LedgerRow) {})
}

func (s *Store) checkOutput(ctx context.Context, id string, number int, o outputs.File) error {
	f, err := outputs.Open(s.runPath(id, number), o)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(io.Discard, intake.ReaderUntil(ctx, f))
	return err
}

// withoutPaths is an error's cause without the place on the disk.
func withoutPaths(err error) string {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}
