package jobs

import (
	"slices"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// Kind is what a file of a job is.
type Kind string

// The kinds of files, by the names of the upload's fields.
const (
	KindTrace     Kind = "trace"
	KindJob       Kind = "job"
	KindReference Kind = "reference"
	KindGNSSLog   Kind = "gnss_log"
)

// Kinds lists the kinds of files.
func Kinds() []Kind { return []Kind{KindTrace, KindJob, KindReference, KindGNSSLog} }

// InputFile is a file that was handed in.
type InputFile struct {
	Kind   Kind   `json:"kind"`
	Name   string `json:"name"` // base name as handed in; never part of a path
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`

	Table *tables.TableView `json:"table,omitempty"` // of a trace: as it is understood
}

// State is how far a run is.
type State string

// The states of a run.
const (
	StateWaiting   State = "waiting"
	StateRunning   State = "running" // never stored: after a crash it waits again
	StateDone      State = "done"
	StateFailed    State = "failed"
	StateCancelled State = "cancelled"
)

// Run is one making of the map with certain settings.
type Run struct {
	Number int `json:"number"`
	// FromRevision is the state of the job that it was asked for on.
	FromRevision int              `json:"from_revision,omitempty"`
	Asked        time.Time        `json:"asked"`
	State        State            `json:"state"`
	Settings     jobfile.Settings `json:"settings"`
	Problem      *problem.Problem `json:"problem,omitempty"` // why it failed
	Starts       int              `json:"starts"`            // how often it was begun
	Summary      *report.Summary  `json:"summary,omitempty"` // once done
}

// Job is what was handed in together, with its runs.
type Job struct {
	ID       string           `json:"id"`
	Created  time.Time        `json:"created"`
	Name     string           `json:"name"`            // base name of the outputs
	Owner    string           `json:"owner,omitempty"` // who handed it in; empty: everybody's
	Group    string           `json:"group,omitempty"` // of people who share it
	Revision int              `json:"revision"`
	Files    []InputFile      `json:"files"`
	Settings jobfile.Settings `json:"settings"`
	// DatumSaid is set once somebody has said which frame the corrections were
	// in, or that nobody knows.
	DatumSaid bool     `json:"datum_said"`
	LineNames []string `json:"line_names"` // that the readings name
	Runs      []Run    `json:"runs"`
	// LastRun is the highest number that a run ever had, once one was removed.
	LastRun int `json:"last_run,omitempty"`
}

// clone shares nothing with the job that may ever be written to.
func (j *Job) clone() *Job {
	next := *j
	next.Files = slices.Clone(j.Files) // a table is replaced, never changed
	next.Settings = j.Settings.Clone()
	next.LineNames = slices.Clone(j.LineNames)
	next.Runs = slices.Clone(j.Runs)
	return &next
}

// Run returns a run by its number, nil where there is none.
func (j *Job) Run(number int) *Run {
	for i := range j.Runs {
		if j.Runs[i].Number == number {
			return &j.Runs[i]
		}
	}
	return nil
}

// Latest returns the run that was asked for last, nil before the first.
func (j *Job) Latest() *Run {
	if len(j.Runs) == 0 {
		return nil
	}
	return &j.Runs[len(j.Runs)-1]
}

// LatestDone returns the last run that has a map, nil where none has.
func (j *Job) LatestDone() *Run {
	for i := len(j.Runs) - 1; i >= 0; i-- {
		if j.Runs[i].State == StateDone {
			return &j.Runs[i]
		}
	}
	return nil
}

// DoneBefore returns the last finished run before a number, nil where none is.
func (j *Job) DoneBefore(number int) *Run {
	var found *Run
	for i := range j.Runs {
		if r := &j.Runs[i]; r.Number < number && r.State == StateDone {
			found = r
		}
	}
	return found
}

// Busy reports whether a run is waiting or under way.
func (j *Job) Busy() bool {
	r := j.Latest()
	return r != nil && (r.State == StateWaiting || r.State == StateRunning)
}

// Title is what a job goes by: its ticket, else its name.
func (j *Job) Title() string {
	if t := strings.TrimSpace(j.Settings.Ticket); t != "" {
		return t
	}
	return j.Name
}
