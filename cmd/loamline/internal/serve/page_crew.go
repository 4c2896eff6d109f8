package serve

import (
	"html/template"
	"net"
	"net/http"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// withCrew opens the newest map of the job that a crew link is for.
func (s *Server) withCrew(h func(http.ResponseWriter, *http.Request, jobs.Job, jobs.Run)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		job, _, err := s.store.CrewJob(r.PathValue("link"))
		if err == nil && job.LatestDone() == nil {
			err = jobs.ErrNoRun
		}
		if err != nil {
			s.failError(w, r, err)
			return
		}
		h(w, r, job, *job.LatestDone())
	}
}

// pageCrew shows the newest map of one job to whoever has its link.
func (s *Server) pageCrew(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	_, link, err := s.store.CrewJob(r.PathValue("link"))
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v := runView{Job: job, Title: titleOf(job), Run: run, Path: "/crew/" + r.PathValue("link"), Crew: &link}
	s.showResult(w, r, v)
}

// pageMakeCrewLink makes a link and shows it once.
func (s *Server) pageMakeCrewLink(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	days, err := strconv.Atoi(r.PostFormValue("days"))
	if err != nil {
		days = 0
	}
	secret, err := s.store.MakeCrewLink(job.ID, door.Of(r).Name, days)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	s.showCrewLinks(w, r, job, "/crew/"+secret)
}

func (s *Server) pageCrewLinks(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	s.showCrewLinks(w, r, job, "")
}

func (s *Server) pageEndCrewLink(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := s.store.EndCrewLink(job.ID, r.PostFormValue("sum")); err != nil {
		s.failError(w, r, err)
		return
	}
	http.Redirect(w, r, "/jobs/"+job.ID+"/crew", http.StatusSeeOther)
}

type crewView struct {
	Job   jobs.Job
	Title string
	New   string // the link just made, to be shown once
	Links []jobs.CrewLink
	Here  bool // the server can be reached from this computer alone
	Code  template.HTML
}

// showCrewLinks shows a new link by an address that a phone reaches, which the
// one that the browser of this computer uses need not be.
func (s *Server) showCrewLinks(w http.ResponseWriter, r *http.Request, job jobs.Job, made string) {
	host, _, err := net.SplitHostPort(r.Host)
	if err != nil {
		host = r.Host
	}
	v := crewView{Job: job, Title: titleOf(job), New: made, Links: s.store.CrewLinks(job.ID), Here: len(s.urls) == 0 && isLoopback(strings.Trim(host, "[]"))}
	if made != "" && len(s.urls) > 0 {
		if isLoopback(strings.Trim(host, "[]")) {
			v.New = s.urls[0] + made
			v.Code = qrPicture(v.New)
		} else if s.opt.encrypted() {
			v.Code = qrPicture("https://" + r.Host + made)
		}
	}
	s.show(w, r, http.StatusOK, "crew", "Links for crews", v)
}
