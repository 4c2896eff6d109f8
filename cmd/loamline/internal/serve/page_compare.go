package serve

import (
	"net/http"
	"strconv"

	"loamline/cmd/loamline/internal/serve/jobs"
	"loamline/geo"
)

type changesView struct {
	Job     jobs.Job
	Title   string
	Changes *jobs.Changes
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
	Choices       []jobRow
	Lines         []overlayLine
	Units         string
	Warning       string // why the comparison itself is in doubt
}

// pageOverlay lays the maps of two jobs over each other, or asks which.
func (s *Server) pageOverlay(w http.ResponseWriter, r *http.Request) {
	first, second := r.URL.Query().Get("first"), r.URL.Query().Get("second")
	v := overlayView{First: s.madeJob(r, first), Second: s.madeJob(r, second)}
	if v.First == nil || v.Second == nil {
		all, _ := s.store.Search(jobs.Query{Sees: s.seen(r)})
		for _, j := range all {
			if j.LatestDone() != nil {
				v.Choices = append(v.Choices, rowOf(j))
			}
		}
		s.show(w, r, http.StatusOK, "overlay", "Two maps over each other", v)
		return
	}
	v.Units = v.First.LatestDone().Settings.Units
	lines, err := s.store.Overlay(first, v.First.LatestDone().Number, second, v.Second.LatestDone().Number, geo.Units(v.Units))
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v.Lines = overlayLines(lines, geo.Units(v.Units))
	v.Warning = datumWarning(v.First.LatestDone().Settings, v.Second.LatestDone().Settings)
	s.show(w, r, http.StatusOK, "overlay", "Two maps over each other", v)
}

// datumWarning says that two maps were made from positions in different frames,
// or in one that nobody knows: the offsets between them may be the frames'.
func datumWarning(a, b jobs.Settings) string {
	if a.Datum == b.Datum && a.CRS == b.CRS && a.Datum != "" {
		return ""
	}
	name := func(s jobs.Settings) string {
		switch {
		case s.Datum != "":
			return s.Datum
		case s.CRS != jobs.DefaultSettings().CRS:
			return "the frame of " + s.CRS
		}
		return "a frame that nobody stated"
	}
	if name(a) == name(b) && a.Datum != "" {
		return ""
	}
	return "The first map's positions were in " + name(a) + ", the second's in " + name(b) + ". Frames differ by up to two metres: an offset between the maps may be theirs and not the line's."
}

// madeJob is a job that has a map, nil where there is none.
func (s *Server) madeJob(r *http.Request, id string) *jobRow {
	if !jobs.ValidID(id) {
		return nil
	}
	job, err := s.store.Job(id)
	if err != nil || job.LatestDone() == nil || !s.sees(visitorOf(r), &job) {
		return nil
	}
	row := rowOf(job)
	return &row
}
