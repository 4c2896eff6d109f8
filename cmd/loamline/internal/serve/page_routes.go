package serve

import (
	"net/http"
	"strconv"

	"loamline/cmd/loamline/internal/serve/jobs"
)

func (s *Server) routePages(mux *http.ServeMux) {
	mux.Handle("GET /assets/", assets())
	mux.HandleFunc("GET /{$}", s.pageHome)
	mux.HandleFunc("POST /jobs", s.pageUpload)
	mux.HandleFunc("GET /jobs/{id}", s.withJob(s.pageJob))
	mux.HandleFunc("GET /jobs/{id}/columns", s.withJob(s.pageColumns))
	mux.HandleFunc("POST /jobs/{id}/columns", s.withJob(s.pageSayColumns))
	mux.HandleFunc("GET /jobs/{id}/settings", s.withJob(s.pageSettings))
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
	mux.HandleFunc("GET /jobs/{id}/delete", s.withJob(s.pageAskDelete))
	mux.HandleFunc("POST /jobs/{id}/delete", s.withJob(s.pageDelete))
	mux.HandleFunc("GET /overlay", s.pageOverlay)
	mux.HandleFunc("GET /remembered", s.pageRemembered)
	mux.HandleFunc("POST /remembered/forget", s.pageForget)
	mux.HandleFunc("GET /sign-in", s.signIn)
	mux.HandleFunc("POST /sign-in", s.signIn)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, refusal{http.StatusNotFound, "Not there", "there is no such page", nil})
	})
}

// withJob looks the job of the path up.
func (s *Server) withJob(h func(http.ResponseWriter, *http.Request, jobs.Job)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if id := r.PathValue("id"); jobs.ValidID(id) {
			job, err := s.store.Job(id)
			if err == nil {
				h(w, r, job)
				return
			}
		}
		s.failError(w, r, jobs.ErrNoJob)
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
