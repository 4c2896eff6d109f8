package serve

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/overlay"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

//go:embed openapi.yaml
var openAPI []byte

// routeAPI lists the paths as openapi.yaml does.
func (s *Server) routeAPI(mux *http.ServeMux) {
	mux.HandleFunc("GET /api/openapi.yaml", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/yaml")
		_, _ = w.Write(openAPI)
	})
	mux.HandleFunc("GET /api/v1/jobs", s.apiList)
	mux.HandleFunc("POST /api/v1/jobs", s.apiUpload)
	mux.HandleFunc("GET /api/v1/jobs/{id}", s.withJob(s.apiJob))
	mux.HandleFunc("DELETE /api/v1/jobs/{id}", s.withJob(s.apiDelete))
	mux.HandleFunc("GET /api/v1/jobs/{id}/inputs/{input}", s.withJob(s.sendInput))
	mux.HandleFunc("PUT /api/v1/jobs/{id}/answers", s.withJob(s.apiSay))
	mux.HandleFunc("POST /api/v1/jobs/{id}/runs", s.withJob(s.apiAsk))
	mux.HandleFunc("GET /api/v1/jobs/{id}/changes", s.withJob(s.apiChanges))
	mux.HandleFunc("GET /api/v1/jobs/{id}/runs/{run}", s.withRun(s.apiRun))
	mux.HandleFunc("DELETE /api/v1/jobs/{id}/runs/{run}", s.withRun(s.apiDeleteRun))
	mux.HandleFunc("POST /api/v1/jobs/{id}/runs/{run}/cancel", s.withRun(s.apiCancel))
	mux.HandleFunc("GET /api/v1/jobs/{id}/runs/{run}/result", s.withRun(s.apiResult))
	mux.HandleFunc("GET /api/v1/jobs/{id}/runs/{run}/ledger", s.withRun(s.apiLedger))
	mux.HandleFunc("GET /api/v1/jobs/{id}/runs/{run}/files/{key}", s.withRun(s.sendOutput))
	mux.HandleFunc("GET /api/v1/jobs/{id}/runs/{run}/zip", s.withRun(s.sendZip))
	mux.HandleFunc("GET /api/v1/overlay", s.apiOverlay)
	mux.HandleFunc("GET /api/v1/systems", s.apiSystems)
	mux.HandleFunc("GET /api/v1/remembered", s.apiRemembered)
	mux.HandleFunc("DELETE /api/v1/remembered/{key}", s.apiForget)
}

func answer(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(v)
}

// readBody reads a request's JSON text; empty where there is none.
func readBody(r *http.Request) ([]byte, error) {
	text, err := io.ReadAll(r.Body)
	if err != nil || len(text) == 0 {
		return nil, err
	}
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return nil, &badUpload{errors.New("send application/json")}
	}
	return text, nil
}

// jobAnswer is a job with what it waits for.
type jobAnswer struct {
	jobs.Job
	Questions []jobs.Question   `json:"questions"`
	Links     map[string]string `json:"links"`
}

func answerJob(j jobs.Job) jobAnswer {
	a := jobAnswer{j, j.Open(), map[string]string{"self": "/api/v1/jobs/" + j.ID, "page": "/jobs/" + j.ID}}
	if a.Questions == nil {
		a.Questions = []jobs.Question{}
	}
	if a.Runs == nil {
		a.Runs = []jobs.Run{}
	}
	if r := j.Latest(); r != nil {
		a.Links["run"] = "/api/v1" + runPath(j, r.Number)
	}
	return a
}

func (s *Server) apiList(w http.ResponseWriter, r *http.Request) {
	ask, err := s.queryOf(r)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	ask.Most = 100
	for name, to := range map[string]*int{"skip": &ask.Skip, "limit": &ask.Most} {
		if v := r.URL.Query().Get(name); v != "" {
			n, err := strconv.Atoi(v)
			if err != nil || n < 0 || name == "limit" && (n == 0 || n > 1000) {
				s.failError(w, r, &badUpload{fmt.Errorf("%s=%.40q: must be a whole number, limit at most 1000", name, v)})
				return
			}
			*to = n
		}
	}
	found, total := s.store.Search(ask)
	out := struct {
		Total      int            `json:"total"`
		Jobs       []jobAnswer    `json:"jobs"`
		Unreadable []jobs.Trouble `json:"unreadable,omitempty"`
	}{total, []jobAnswer{}, s.store.Unreadable()}
	for _, j := range found {
		out.Jobs = append(out.Jobs, answerJob(j))
	}
	answer(w, http.StatusOK, out)
}

// apiUpload stores an upload; with ?run=yes the map is made at once if nothing
// has to be asked.
func (s *Server) apiUpload(w http.ResponseWriter, r *http.Request) {
	if v := r.URL.Query().Get("run"); v != "" && v != "yes" {
		s.failError(w, r, &badUpload{fmt.Errorf("run=%.40q: must be yes, or left out", v)})
		return
	}
	job, err := s.receive(w, r)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	if r.URL.Query().Get("run") == "yes" && len(job.Questions()) == 0 {
		// Where that fails the job is stored all the same, and has no run.
		if started, err := s.maker.Ask(r.Context(), job.ID, job.Revision, job.Settings); err == nil {
			job = started
		}
	}
	w.Header().Set("Location", "/api/v1/jobs/"+job.ID)
	answer(w, http.StatusCreated, answerJob(job))
}

func (s *Server) apiJob(w http.ResponseWriter, _ *http.Request, job jobs.Job) {
	w.Header().Set("ETag", etag(job))
	answer(w, http.StatusOK, answerJob(job))
}

func etag(j jobs.Job) string { return strconv.Quote(strconv.Itoa(j.Revision)) }

// revisionIn reads If-Match, 0 where the client does not mind.
func revisionIn(r *http.Request, job jobs.Job) int {
	v := r.Header.Get("If-Match")
	if v == "" || v == "*" {
		return job.Revision
	}
	n, err := strconv.Atoi(strings.Trim(v, `"`))
	if err != nil || n <= 0 {
		return -1
	}
	return n
}

func (s *Server) apiDelete(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := s.maker.Delete(job.ID); err != nil {
		s.failError(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

func (s *Server) apiSay(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	var a jobs.Answer
	body, err := readBody(r)
	if err == nil {
		a, err = jobs.ReadAnswer(body)
	}
	if err == nil {
		job, err = s.store.Say(r.Context(), job.ID, revisionIn(r, job), a)
	}
	if err != nil {
		s.failError(w, r, err)
		return
	}
	w.Header().Set("ETag", etag(job))
	answer(w, http.StatusOK, answerJob(job))
}

// apiAsk has the map made with the settings in the body, laid over the job's; an
// empty body takes the job's as they are.
func (s *Server) apiAsk(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	set := job.Settings
	body, err := readBody(r)
	if err == nil && len(body) > 0 {
		set, err = set.With(body)
	}
	if err == nil {
		job, err = s.maker.Ask(r.Context(), job.ID, revisionIn(r, job), set)
	}
	if err != nil {
		s.failError(w, r, err)
		return
	}
	w.Header().Set("Location", "/api/v1"+runPath(job, job.Latest().Number))
	answer(w, http.StatusAccepted, job.Latest())
}

// runAnswer is a run with how far it is.
type runAnswer struct {
	jobs.Run
	Progress jobs.Progress `json:"progress"`
}

func (s *Server) apiRun(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	p, err := s.maker.Progress(job.ID, run.Number)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	now, err := s.store.Job(job.ID)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	ended := now.Run(run.Number) // as it may have since, or been removed
	if ended == nil {
		s.failError(w, r, jobs.ErrNoRun)
		return
	}
	run = *ended
	a := runAnswer{run, p}
	if p.State == jobs.StateRunning && a.State == jobs.StateWaiting {
		a.State = jobs.StateRunning
	}
	answer(w, http.StatusOK, a)
}

func (s *Server) apiDeleteRun(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	if _, err := s.store.DeleteRun(job.ID, run.Number); err != nil {
		s.failError(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

func (s *Server) apiCancel(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	if err := s.maker.Cancel(job.ID, run.Number); err != nil {
		s.failError(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

func (s *Server) apiResult(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	res, err := s.store.Result(job.ID, run.Number)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	answer(w, http.StatusOK, res)
}

// ledgerStatuses are what can become of a row.
var ledgerStatuses = []string{"used", "set_aside", "check", "exposed", "unreadable"}

func (s *Server) apiLedger(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	q, from := r.URL.Query(), 0
	if v := q.Get("from"); v != "" {
		n, err := strconv.Atoi(v)
		if err != nil || n < 0 {
			s.failError(w, r, &badUpload{fmt.Errorf("from=%.40q: must be a whole number", v)})
			return
		}
		from = n
	}
	if v := q.Get("status"); v != "" && !slices.Contains(ledgerStatuses, v) {
		s.failError(w, r, &badUpload{fmt.Errorf("status=%.40q: must be one of %s", v, strings.Join(ledgerStatuses, ", "))})
		return
	}
	page, err := s.store.Ledger(job.ID, run.Number, q.Get("status"), from, 1000)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	answer(w, http.StatusOK, page)
}

func (s *Server) apiChanges(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	from, to, err := runsAsked(r, job)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	c, err := s.store.Changes(job.ID, from, to)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	answer(w, http.StatusOK, c)
}

func (s *Server) apiOverlay(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	a, b := s.madeJob(r, q.Get("first")), s.madeJob(r, q.Get("second"))
	if a == nil || b == nil {
		s.failError(w, r, jobs.ErrNoRun)
		return
	}
	c, err := s.store.Compare(a.Job, b.Job, a.units(), handPairs(q))
	if err != nil {
		s.failError(w, r, err)
		return
	}
	answer(w, http.StatusOK, struct {
		First   string           `json:"first"`
		Second  string           `json:"second"`
		Warning string           `json:"warning,omitempty"`
		Lines   []report.Overlay `json:"lines"`
	}{a.ID, b.ID, overlay.Warning(c.First, c.Second), c.Lines})
}

func (s *Server) apiRemembered(w http.ResponseWriter, r *http.Request) {
	answer(w, http.StatusOK, struct {
		Remembered []tables.Remembered `json:"remembered"`
	}{s.remembered(r)})
}

func (s *Server) apiForget(w http.ResponseWriter, r *http.Request) {
	if err := s.forget(r, r.PathValue("key")); err != nil {
		s.failError(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}
