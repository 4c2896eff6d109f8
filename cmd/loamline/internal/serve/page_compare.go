package serve

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/overlay"
	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/geo"
)

type changesView struct {
	Job     jobs.Job
	Title   string
	Changes *report.Changes
	Lines   []overlayLine
	Done    []jobs.Run
}

// pageChanges shows what another run changed.
func (s *Server) pageChanges(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	from, to, err := runsAsked(r, job)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v := changesView{Job: job, Title: titleOf(job)}
	if v.Changes, err = s.store.Changes(job.ID, from, to); err != nil {
		s.failError(w, r, err)
		return
	}
	for _, run := range job.Runs {
		if run.State == jobs.StateDone {
			v.Done = append(v.Done, run)
		}
	}
	v.Lines = overlayLines(v.Changes.Lines, geo.Units(job.Run(to).Settings.Units))
	s.show(w, r, http.StatusOK, "changes", "What changed in "+v.Title, v)
}

// runsAsked reads from and to; without them the last two finished runs.
func runsAsked(r *http.Request, job jobs.Job) (from, to int, err error) {
	last := job.LatestDone()
	if last == nil {
		return 0, 0, jobs.ErrNoRun
	}
	from, to = last.Number, last.Number
	if before := job.DoneBefore(to); before != nil {
		from = before.Number
	}
	for name, into := range map[string]*int{"from": &from, "to": &to} {
		if v := r.URL.Query().Get(name); v != "" {
			if *into, err = strconv.Atoi(v); err != nil || job.Run(*into) == nil {
				return 0, 0, jobs.ErrNoRun
			}
		}
	}
	return from, to, nil
}

type overlayView struct {
	First, Second *jobRow
	Find          findView
	jobList            // to choose from
	Near          bool // only jobs at the place of the first are listed
	Lines         []overlayLine
	Pairs         []pairRow
	SecondNames   []string
	Plan          *overlay.Plan
	Units         string
	Warning       string // why the comparison itself is in doubt
	Problems      []problem.Problem
}

// pairRow is a line of the first map with what it is compared with, to change.
type pairRow struct{ First, Second, Call, Paired string }

// pageOverlay lays the maps of two jobs over each other, or asks which.
func (s *Server) pageOverlay(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	v := overlayView{First: s.madeJob(r, q.Get("first")), Second: s.madeJob(r, q.Get("second"))}
	if v.First == nil || v.Second == nil {
		s.chooseOverlay(w, r, v)
		return
	}
	v.Units = v.First.LatestDone().Settings.Units
	status := http.StatusOK
	c, err := s.store.Compare(v.First.Job, v.Second.Job, geo.Units(v.Units), handPairs(q))
	var refused *problem.Refused
	if errors.As(err, &refused) {
		for _, p := range refused.Problems {
			p.Field = "" // the words say which line is meant
			v.Problems = append(v.Problems, p)
		}
		status = http.StatusUnprocessableEntity
		c, err = s.store.Compare(v.First.Job, v.Second.Job, geo.Units(v.Units), nil)
	}
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v.Lines = overlayLines(c.Lines, geo.Units(v.Units))
	v.Plan = overlay.NewPlan(c.First, c.Second, c.Laid, geo.Units(v.Units))
	for _, l := range c.Second.Lines {
		v.SecondNames = append(v.SecondNames, l.Name)
	}
	calls := map[string]string{}
	for _, h := range handPairs(q) {
		calls[h.First] = h.Call
	}
	for i, l := range c.First.Lines {
		if i < len(c.Lines) { // the first map's lines come first, in their order
			o := c.Lines[i]
			row := pairRow{First: l.Name, Second: o.Second, Call: calls[l.Name], Paired: o.Paired}
			if o.Paired != "" && row.Second == "" && !o.FirstOnly {
				row.Second = l.Name
			}
			v.Pairs = append(v.Pairs, row)
		}
	}
	v.Warning = overlay.Warning(c.First, c.Second)
	s.show(w, r, status, "overlay", "Two maps over each other", v)
}

// handPairs are the lines that a person paired: the values of line, with and
// call belong together in their order. A value of with that says so leaves the
// line to the program.
func handPairs(q url.Values) []report.HandPair {
	var out []report.HandPair
	for i, line := range q["line"] {
		if i >= len(q["with"]) {
			break
		}
		h := report.HandPair{First: line, Second: q["with"][i], Auto: q["with"][i] == byProgram}
		if i < len(q["call"]) {
			h.Call = strings.TrimSpace(q["call"][i])
		}
		if h.Auto && h.Call == "" {
			continue
		}
		out = append(out, h)
	}
	return out
}

// byProgram is the value of a line that nobody paired by hand; no line is called
// so, for names are trimmed.
const byProgram = " "

// chooseOverlay lists jobs that have a map, a page at a time: for the second
// those at the place of the first, unless others are asked for.
func (s *Server) chooseOverlay(w http.ResponseWriter, r *http.Request, v overlayView) {
	v.Find = findOf(r, "/overlay")
	q, err := s.queryOf(r)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	sees := q.Sees
	q.Sees = func(j *jobs.Job) bool {
		return j.LatestDone() != nil && sees(j) && (v.First == nil || j.ID != v.First.ID)
	}
	if v.First != nil {
		if b := v.First.Box(); b != nil && !v.Find.Asked() {
			const about = 0.002 // degrees, some two hundred metres
			q.Box, v.Near = &whereabouts.Box{West: b.West - about, South: b.South - about, East: b.East + about, North: b.North + about}, true
		}
		v.Find.Values.Set("first", v.First.ID)
	}
	v.jobList = s.listed(r, q, v.Find)
	s.show(w, r, http.StatusOK, "overlay", "Two maps over each other", v)
}

// madeJob is a job that has a map, nil where there is none.
func (s *Server) madeJob(r *http.Request, id string) *jobRow {
	if !jobs.ValidID(id) {
		return nil
	}
	job, err := s.store.Job(id)
	if err != nil || job.LatestDone() == nil || !s.sees(door.Of(r), &job) {
		return nil
	}
	row := rowOf(job)
	return &row
}
