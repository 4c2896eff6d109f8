// Package report is what a run found, in words and counts, for pages and programs: its result,
// the list of its rows, and how two maps differ, as two runs of a job or as two locates. It
// knows sheets and maps that were read, and nothing of where they are kept; figures and
// geometry for machines are in the output files.
package report

import (
	"math"
	"sort"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/export/member"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Result is what a run found, as it is shown and sent; geometry and figures
// for machines are in the output files.
type Result struct {
	Version  string            `json:"version"`
	Name     string            `json:"name"`
	Ticket   string            `json:"ticket"`
	Date     string            `json:"date"`
	Area     string            `json:"area"`
	Units    string            `json:"units"`
	Frame    string            `json:"frame"`
	Counts   member.Counts     `json:"counts"`
	Lines    []LineResult      `json:"lines"`
	Reasons  []Reason          `json:"reasons"`
	Problems []problem.Problem `json:"problems"`
	Advice   []string          `json:"advice"`
	Cautions []string          `json:"cautions"`
	Box      *whereabouts.Box  `json:"box,omitempty"`
	Files    []outputs.File    `json:"files"`

	// Inputs and Columns are what the map was made from: the files by their sums,
	// and what each column of a table was taken for.
	Inputs  []member.Input               `json:"inputs,omitempty"`
	Columns map[string]map[string]string `json:"columns,omitempty"`
}

// LineResult is one line in words.
type LineResult struct {
	Name     string          `json:"name"`
	Title    string          `json:"title"`
	Utility  string          `json:"utility"`
	Setup    string          `json:"setup"`
	Drawn    bool            `json:"drawn"`
	TracedM  float64         `json:"traced_m"`
	Traced   string          `json:"traced"`
	Depths   string          `json:"depths"`
	Position string          `json:"position"`
	Counts   member.Counts   `json:"counts"`
	Notes    []string        `json:"notes"`
	Findings []FindingResult `json:"findings"`
	Checked  []string        `json:"checked"`
	TryNext  []string        `json:"try_next"`
}

// FindingResult is one finding in words.
type FindingResult struct {
	Role  string   `json:"role"`
	Grade string   `json:"grade,omitempty"` // of suspected bleed-over
	Title string   `json:"title"`
	Words []string `json:"words"`
	Look  bool     `json:"needs_a_look"`
}

// Reason is why readings were set aside, or lost their depth.
type Reason struct {
	Count int    `json:"count"`
	Why   string `json:"why"`
}

// Summary is what a list of jobs shows of a run.
type Summary struct {
	Lines   int              `json:"lines"`
	Drawn   int              `json:"drawn"`
	TracedM float64          `json:"traced_m"`
	Looks   int              `json:"needs_a_look"` // findings and problems that need a person's eye
	Counts  member.Counts    `json:"counts"`
	Box     *whereabouts.Box `json:"box,omitempty"`
}

func (r *Result) Summary() *Summary {
	s := &Summary{Lines: len(r.Lines), Counts: r.Counts, Box: r.Box}
	for _, l := range r.Lines {
		if l.Drawn {
			s.Drawn++
			s.TracedM += l.TracedM
		} else {
			s.Looks++
		}
		for _, f := range l.Findings {
			if f.Look {
				s.Looks++
			}
		}
	}
	return s
}

// Of words a sheet.
func Of(s *trace.Sheet) *Result {
	r := &Result{Version: s.Version, Name: s.Name, Ticket: s.Job.Ticket, Date: words.JobDate(s), Area: s.Job.Area, Units: string(s.Job.Units),
		Frame: s.Frame.In(s.Job.Units), Counts: member.Counts(s.Counts), Advice: words.Advice(s), Cautions: s.Cautions, Reasons: reasons(s), Box: boxOf(s)}
	for i := range s.Lines {
		r.Lines = append(r.Lines, lineResult(s, &s.Lines[i]))
	}
	for _, p := range words.Problems(s) {
		r.Problems = append(r.Problems, problem.Stored(p))
	}
	return r
}

func lineResult(s *trace.Sheet, l *trace.Line) LineResult {
	u := s.Job.Units
	out := LineResult{Name: l.Setup.Name, Title: words.LineTitle(l.Setup), Utility: string(style.Of(l.Setup.Utility).Utility),
		Setup: words.Setup(u, l.Setup), Counts: member.Counts(trace.CountReadings(l.Readings)), Checked: words.Remarks(u, l.Checked), TryNext: words.Remarks(u, l.TryNext)}
	if c := l.Centerline; c != nil {
		out.Drawn, out.TracedM, out.Notes = true, c.TracedM(), words.Remarks(u, c.Notes)
		out.Traced, out.Depths = u.Long(out.TracedM)+" traced", capital(words.DepthRange(u, l, words.JobDate(s)))
		out.Position = "At its widest, " + words.PositionRange(u, l)
	}
	for _, f := range l.Findings {
		out.Findings = append(out.Findings, findingResult(s, f))
	}
	sort.SliceStable(out.Findings, func(a, b int) bool { return weight(out.Findings[a]) > weight(out.Findings[b]) })
	return out
}

func findingResult(s *trace.Sheet, f trace.Finding) FindingResult {
	out := FindingResult{Role: f.Role(), Title: words.FindingTitle(s.Job.Units, f), Words: words.Finding(s.Job.Units, f), Look: f.NeedsEyes()}
	if b, ok := f.(finding.BleedOver); ok {
		out.Grade = string(b.Grade)
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// weight puts what people must see first at the top.
func weight(f FindingResult) int {
	switch {
	case f.Grade == string(trace.GradeStrong):
		return 5
	case f.Grade == string(trace.GradeSuspect):
		return 4
	case f.Role == finding.RoleGap, f.Role == finding.RoleDoubt:
		return 3
	case f.Look:
		return 2
	}
	return 1
}

func reasons(s *trace.Sheet) []Reason {
	out := []Reason{}
	for _, r := range words.Reasons(s) {
		out = append(out, Reason{r.N, r.Why})
	}
	return out
}

// boxOf is the least box of degrees about all traced lines, nil without one.
func boxOf(s *trace.Sheet) *whereabouts.Box {
	b := whereabouts.Box{West: math.Inf(1), South: math.Inf(1), East: math.Inf(-1), North: math.Inf(-1)}
	for i := range s.Lines {
		c := s.Lines[i].Centerline
		if c == nil {
			continue
		}
		for _, p := range c.Parts {
			for _, v := range p.Vertices {
				at := s.Plane.LonLat(v.Pos)
				b.West, b.East = min(b.West, at.LonDeg), max(b.East, at.LonDeg)
				b.South, b.North = min(b.South, at.LatDeg), max(b.North, at.LatDeg)
			}
		}
	}
	if math.IsInf(b.West, 0) {
		return nil
	}
	return &b
}
