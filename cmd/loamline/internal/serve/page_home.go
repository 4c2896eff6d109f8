package serve

import (
	"net/http"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/geo"
)

type homeView struct {
	Find findView
	jobList
	Problems []problem.Problem
	Trouble  string
	Limits   jobs.Limits

	Unreadable []jobs.Trouble
}

// jobRow is a job in a list.
type jobRow struct {
	jobs.Job
	State string
	Done  *report.Summary
}

func rowOf(j jobs.Job) jobRow {
	row := jobRow{Job: j, State: "not made yet"}
	if len(j.Questions()) > 0 {
		row.State = "waits for an answer"
	}
	if r := j.Latest(); r != nil {
		switch r.State {
		case jobs.StateWaiting, jobs.StateRunning:
			row.State = "being made"
			if j.LatestDone() != nil {
				row.State = "map made, another one under way"
			}
		case jobs.StateFailed:
			row.State = "could not be made"
			if j.LatestDone() != nil {
				row.State = "map made, the last attempt failed"
			}
		case jobs.StateCancelled:
			row.State = "cancelled"
			if j.LatestDone() != nil {
				row.State = "map made, the last attempt cancelled"
			}
		case jobs.StateDone:
			row.State = "map made"
		}
	}
	if r := j.LatestDone(); r != nil {
		row.Done = r.Summary
	}
	return row
}

// Title is what a job goes by: its ticket, else its name.
func (r jobRow) Title() string { return titleOf(r.Job) }

// Days tells the day of the trace and, where it is another one, of the upload.
func (r jobRow) Days() string {
	day, uploaded := r.Day(), r.Created.Format(time.DateOnly)
	if day == uploaded {
		return day
	}
	return "traced " + day + ", handed in " + uploaded
}

// units are those that the job's people are shown.
func (r jobRow) units() geo.Units { return geo.Units(r.Settings.Units) }

func titleOf(j jobs.Job) string {
	if j.Settings.Ticket != "" {
		return j.Settings.Ticket
	}
	return j.Name
}

func (s *Server) pageHome(w http.ResponseWriter, r *http.Request) {
	s.showHome(w, r, http.StatusOK, homeView{})
}

func (s *Server) showHome(w http.ResponseWriter, r *http.Request, status int, v homeView) {
	v.Find, v.Limits, v.Unreadable = findOf(r, "/"), s.opt.Limits, s.store.Unreadable()
	q, err := s.queryOf(r)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v.jobList = s.listed(r, q, v.Find)
	s.show(w, r, status, "home", "Jobs", v)
}

// pageUpload takes the form's files in.
func (s *Server) pageUpload(w http.ResponseWriter, r *http.Request) {
	job, err := s.receive(w, r)
	if err != nil {
		f := s.refusalOf(r, err)
		if strings.Contains(r.Header.Get("Accept"), "json") {
			s.fail(w, r, f)
			return
		}
		v := f.view()
		s.showHome(w, r, f.status, homeView{Problems: v.Problems, Trouble: v.Title + ". " + v.Detail})
		return
	}
	http.Redirect(w, r, "/jobs/"+job.ID, http.StatusSeeOther)
}

// pageJob leads to where a job is at: its newest map, whatever became of later
// runs, else the run that is to make one, else what is to be said first.
func (s *Server) pageJob(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	to := "/jobs/" + job.ID + "/settings"
	if run := job.LatestDone(); run != nil {
		to = runPath(job, run.Number)
	} else if run := job.Latest(); run != nil {
		to = runPath(job, run.Number)
	} else if len(job.Questions()) > 0 {
		to = "/jobs/" + job.ID + "/columns"
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

func (s *Server) pageAskDelete(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	s.show(w, r, http.StatusOK, "delete", "Delete "+titleOf(job), rowOf(job))
}

func (s *Server) pageDelete(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := s.maker.Delete(job.ID); err != nil {
		s.failError(w, r, err)
		return
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
