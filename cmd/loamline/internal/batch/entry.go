package batch

import (
	"math"

	"loamline.example/export/member"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// Status is what became of a job.
type Status string

// What may become of a job.
const (
	Made      Status = "made"
	Unchanged Status = "unchanged" // an earlier run made it from the same inputs, settings and program
	Failed    Status = "failed"
	Stopped   Status = "stopped" // the batch was stopped before it was through
)

// Entry is a job's line in the log.
type Entry struct {
	Job         string         `json:"job"`
	Status      Status         `json:"status"`
	Error       string         `json:"error,omitempty"`
	Folder      string         `json:"folder"` // of its outputs
	Inputs      []member.Input `json:"inputs"`
	Counts      member.Counts  `json:"counts"`
	Lines       int            `json:"lines"`
	Drawn       int            `json:"drawn"` // of the lines
	TracedM     float64        `json:"traced_m"`
	Neighbors   int            `json:"neighbors"` // lines of other jobs near it
	Problems    int            `json:"problems"`
	FrameDoubtM float64        `json:"frame_doubt_m"` // how far the whole map may lie off because of its frame
	NeedsEyes   bool           `json:"needs_eyes"`
	Findings    []Finding      `json:"findings"` // what needs a person's eyes
	ToCheck     int            `json:"to_check"` // items under Check before digging, as every list of the map has them
	Archive     string         `json:"archive,omitempty"`
	Fingerprint string         `json:"fingerprint,omitempty"`
	Seconds     float64        `json:"seconds"`
}

// Finding is one thing to look at before digging.
type Finding struct {
	Line  string   `json:"line,omitempty"`
	FromM *float64 `json:"from_m"` // null where it is about all of the line
	ToM   *float64 `json:"to_m"`
	Kind  string   `json:"kind"`
	Words string   `json:"words"`
}

// tell fills a line of the log from a map.
func (e *Entry) tell(s *trace.Sheet, needsEyes bool) {
	e.Counts = member.Counts(s.Counts)
	e.FrameDoubtM = s.Doubted().DoubtM
	e.Lines, e.Problems, e.NeedsEyes = len(s.Lines), len(s.Problems), needsEyes
	for i := range s.Lines {
		if c := s.Lines[i].Centerline; c != nil {
			e.Drawn++
			e.TracedM += c.TracedM()
		}
	}
	e.TracedM = math.Round(e.TracedM*1000) / 1000
	for _, in := range s.Inputs {
		e.Inputs = append(e.Inputs, member.Input{Name: in.Name, SHA256: in.SHA256})
	}
	e.ToCheck = len(words.Advice(s))
	for _, a := range s.Advice {
		if a.Kind != trace.AdviseFrame {
			e.Findings = append(e.Findings, Finding{a.Line, station(a.FromM), station(a.ToM), string(a.Kind), words.Item(s.Job.Units, a)})
		}
	}
}

func station(m float64) *float64 {
	if !trace.Known(m) || math.IsInf(m, 0) {
		return nil
	}
	m = math.Round(m*1000) / 1000
	return &m
}
