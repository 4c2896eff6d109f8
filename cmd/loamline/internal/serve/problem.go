package serve

import (
	"context"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"os"
	"strings"
	"syscall"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// refusal is why a request was not done.
type refusal struct {
	status   int
	title    string
	detail   string
	problems []problem.Problem
}

// problemJSON is a refusal by RFC 9457, "Problem Details for HTTP APIs". Its
// extension member lists what is wrong with the input, place by place.
type problemJSON struct {
	Type     string            `json:"type"`
	Title    string            `json:"title"`
	Status   int               `json:"status"`
	Detail   string            `json:"detail,omitempty"`
	Instance string            `json:"instance,omitempty"`
	Problems []problem.Problem `json:"problems,omitempty"`
}

// refusalOf words an error. What it does not know is the server's own trouble:
// that is logged and told without its insides.
func (s *Server) refusalOf(r *http.Request, err error) refusal {
	var refused *problem.Refused
	var large *jobs.TooLarge
	var open *jobs.NotReady
	var tooMany *http.MaxBytesError
	var timeout net.Error
	switch {
	case errors.As(err, &refused):
		return refusal{http.StatusUnprocessableEntity, "The input cannot be used", refused.Error(), refused.Problems}
	case errors.As(err, &large):
		return refusal{http.StatusRequestEntityTooLarge, "Too large", large.Words(), []problem.Problem{large.Problem}}
	case errors.As(err, &tooMany):
		return refusal{http.StatusRequestEntityTooLarge, "Too large", "the request is larger than this server takes", nil}
	case errors.As(err, new(*badUpload)), errors.As(err, new(*jobfile.BadRequest)):
		return refusal{http.StatusBadRequest, "Not a readable request", err.Error(), nil}
	case errors.Is(err, jobs.ErrNoJob), errors.Is(err, jobs.ErrNoRun), errors.Is(err, jobs.ErrNoInput):
		return refusal{http.StatusNotFound, "Not there", err.Error() + "; it may have been deleted", nil}
	case errors.Is(err, jobs.ErrNoLink):
		return refusal{http.StatusNotFound, "No such link", err.Error() + "; ask whoever sent it for another one", nil}
	case errors.Is(err, tables.ErrNotRemembered):
		return refusal{http.StatusNotFound, "Not there", err.Error() + "; it may have been forgotten", nil}
	case errors.Is(err, jobs.ErrChanged):
		return refusal{http.StatusConflict, "Changed in the meantime", "this job was changed in another window or by somebody else; reload it and check it before you continue", nil}
	case errors.Is(err, outputs.ErrOtherMap):
		return refusal{http.StatusConflict, "Not this map any more", err.Error() + "; make the map again and take the file from the new run: the files of this run that are there stay as they are", nil}
	case errors.As(err, &open):
		return refusal{http.StatusConflict, "Something is still missing", err.Error(), open.Problems()}
	case errors.Is(err, jobs.ErrBusy):
		return refusal{http.StatusServiceUnavailable, "Busy", "too many maps are waiting to be made; your files are kept, try again in a minute", nil}
	case errors.Is(err, errSlow), errors.Is(err, os.ErrDeadlineExceeded), errors.As(err, &timeout) && timeout.Timeout():
		return refusal{http.StatusRequestTimeout, "Too slow", "the upload came too slowly or stopped; nothing was stored, try again", nil}
	case errors.Is(err, errStopping):
		return refusal{http.StatusServiceUnavailable, "Shutting down", "the server is being stopped; nothing was changed, try again when it runs", nil}
	case errors.Is(err, context.Canceled):
		return refusal{http.StatusRequestTimeout, "Stopped", "the sender disconnected; nothing was stored", nil}
	case errors.Is(err, outputs.ErrAltered):
		s.opt.Log.Error("a stored file is not what was stored", "path", r.URL.Path, "error", err)
		return refusal{http.StatusInternalServerError, "Not as it was stored", outputs.ErrAltered.Error() + " of the computer that runs loamline, and is not handed out; upload the originals again, and have whoever runs it look at its disk", nil}
	case errors.Is(err, jobs.ErrFull):
		return refusal{http.StatusInsufficientStorage, "No room for more", err.Error() + "; nothing was stored: delete jobs or single maps that nobody needs, or have whoever runs this server raise the quota", nil}
	case errors.Is(err, syscall.ENOSPC):
		s.opt.Log.Error("the disk is full", "path", r.URL.Path, "error", err)
		return refusal{http.StatusInsufficientStorage, "The disk is full", "nothing was stored; tell whoever runs this server", nil}
	}
	s.opt.Log.Error("a request failed", "method", r.Method, "path", r.URL.Path, "error", err)
	return refusal{http.StatusInternalServerError, "The server failed", "nothing was changed; tell whoever runs this server, its log says more", nil}
}

// fail answers with a refusal: as JSON to programs, as a page to people.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, f refusal) {
	if f.status == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", "30")
	}
	if strings.HasPrefix(r.URL.Path, "/api/") || strings.Contains(r.Header.Get("Accept"), "json") {
		w.Header().Set("Content-Type", "application/problem+json")
		w.WriteHeader(f.status)
		_ = json.NewEncoder(w).Encode(problemJSON{"about:blank", f.title, f.status, f.detail, r.URL.Path, f.problems})
		return
	}
	s.show(w, r, f.status, "refused", f.title, f.view())
}

// failError is fail for an error.
func (s *Server) failError(w http.ResponseWriter, r *http.Request, err error) {
	s.fail(w, r, s.refusalOf(r, err))
}

type refusedView struct {
	Title, Detail string
	Problems      []problem.Problem
}

func (f refusal) view() refusedView {
	v := refusedView{f.title, f.detail, f.problems}
	if len(f.problems) > 0 {
		v.Detail = ""
	}
	return v
}
