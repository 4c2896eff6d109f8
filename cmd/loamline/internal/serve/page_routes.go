package serve

import (
	"net/http"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
)

func (s *Server) routePages(mux *http.ServeMux) {
	mux.Handle("GET /assets/", assets())
	mux.HandleFunc("GET /{$}", s.pageHome)
	mux.HandleFunc("GET /plan", s.pagePlan)
	mux.HandleFunc("POST /jobs", s.pageUpload)
	mux.HandleFunc("GET /jobs/{id}", s.withJob(s.pageJob))
	mux.HandleFunc("GET /jobs/{id}/inputs/{input}", s.withJob(s.sendInput))
	mux.HandleFunc("GET /jobs/{id}/columns", s.withOwnJob(s.pageColumns))
	mux.HandleFunc("POST /jobs/{id}/columns", s.withJob(s.pageSayColumns))
	mux.HandleFunc("GET /jobs/{id}/settings", s.withOwnJob(s.pageSettings))
	mux.HandleFunc("POST /jobs/{id}/runs", s.withJob(s.pageAsk))
	mux.HandleFunc("POST /jobs/{id}/settings", s.withJob(s.pageKeep))
	mux.HandleFunc("GET /jobs/{id}/runs/{run}", s.withRun(s.pageRun))
	mux.HandleFunc("POST /jobs/{id}/runs/{run}/cancel", s.withRun(s.pageCancel))
	mux.HandleFunc("POST /jobs/{id}/runs/{run}/delete", s.withRun(s.pageDeleteRun))
	mux.HandleFunc("GET /jobs/{id}/runs/{run}/map", s.withRun(s.pageMap))
	mux.HandleFunc("GET /jobs/{id}/runs/{run}/files/{key}", s.withRun(s.sendOutput))
	mux.HandleFunc("GET /jobs/{id}/runs/{run}/zip", s.withRun(s.sendZip))
	mux.HandleFunc("GET /jobs/{id}/runs/{run}/ledger", s.withRun(s.pageLedger))
	mux.HandleFunc("GET /jobs/{id}/changes", s.withJob(s.pageChanges))
	mux.HandleFunc("GET /jobs/{id}/delete", s.withOwnJob(s.pageAskDelete))
	mux.HandleFunc("POST /jobs/{id}/delete", s.withJob(s.pageDelete))
	mux.HandleFunc("GET /overlay", s.pageOverlay)
	mux.HandleFunc("GET /remembered", s.pageRemembered)
	mux.HandleFunc("POST /remembered/forget", s.pageForget)
	mux.HandleFunc("GET /jobs/{id}/crew", s.withOwnJob(s.pageCrewLinks))
	mux.HandleFunc("POST /jobs/{id}/crew", s.withJob(s.pageMakeCrewLink))
	mux.HandleFunc("POST /jobs/{id}/crew/end", s.withJob(s.pageEndCrewLink))
	mux.HandleFunc("GET /crew/{link}", s.withCrew(s.pageCrew))
	mux.HandleFunc("GET /crew/{link}/map", s.withCrew(s.pageMap))
	mux.HandleFunc("GET /crew/{link}/files/{key}", s.withCrew(s.sendOutput))
	mux.HandleFunc("GET /crew/{link}/zip", s.withCrew(s.sendZip))
	if s.opt.stoppable() {
		mux.HandleFunc("POST /stop", s.pageStop)
	}
	mux.HandleFunc("POST /sign-out", s.signOut)
	mux.HandleFunc("GET /sign-in", s.signIn)
	mux.HandleFunc("POST /sign-in", s.signIn)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		if allowed := methodsOf(mux, r); len(allowed) > 0 {
			w.Header().Set("Allow", strings.Join(allowed, ", "))
			s.fail(w, r, refusal{http.StatusMethodNotAllowed, "Method not allowed", r.Method + " is not possible here; " + strings.Join(allowed, ", ") + " is", nil})
			return
		}
		s.fail(w, r, refusal{http.StatusNotFound, "Not there", "there is no such page", nil})
	})
}

// methodsOf lists the methods by which there is something at a request's path.
func methodsOf(mux *http.ServeMux, r *http.Request) []string {
	var out []string
	for _, m := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
		other := r.Clone(r.Context())
		other.Method = m
		if _, pattern := mux.Handler(other); pattern != "/" && pattern != "" {
			out = append(out, m)
		}
	}
	return out
}

// withJob looks the job of the path up, for who may see it and, where the
// request changes something, who may change it.
func (s *Server) withJob(h func(http.ResponseWriter, *http.Request, jobs.Job)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		looks := r.Method == http.MethodGet || r.Method == http.MethodHead
		s.forJob(w, r, !looks, h)
	}
}

// withOwnJob is withJob for pages that only make sense to who may change the
// job.
func (s *Server) withOwnJob(h func(http.ResponseWriter, *http.Request, jobs.Job)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { s.forJob(w, r, true, h) }
}

func (s *Server) forJob(w http.ResponseWriter, r *http.Request, change bool, h func(http.ResponseWriter, *http.Request, jobs.Job)) {
	id, who := r.PathValue("id"), door.Of(r)
	if !jobs.ValidID(id) {
		s.failError(w, r, jobs.ErrNoJob)
		return
	}
	job, err := s.store.Job(id)
	switch {
	case err != nil:
		s.failError(w, r, err)
	case !s.sees(who, &job):
		s.failError(w, r, jobs.ErrNoJob) // not even that it is there
	case change && !who.Owns(job.Owner, job.Group):
		s.fail(w, r, refusal{http.StatusForbidden, "Somebody else's job", "this job belongs to " + job.Owner + ": you can view it, but not change it", nil})
	default:
		h(w, r, job)
	}
}

// withRun looks the run of the path up.
func (s *Server) withRun(h func(http.ResponseWriter, *http.Request, jobs.Job, jobs.Run)) http.HandlerFunc {
	return s.withJob(func(w http.ResponseWriter, r *http.Request, job jobs.Job) {
		n, err := strconv.Atoi(r.PathValue("run"))
		if run := job.Run(n); err == nil && run != nil {
			h(w, r, job, *run)
			return
		}
		s.failError(w, r, jobs.ErrNoRun)
	})
}

func runPath(job jobs.Job, number int) string {
	return "/jobs/" + job.ID + "/runs/" + strconv.Itoa(number)
}
