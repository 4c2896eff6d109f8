package serve

import (
	"context"
	"net/http"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// visitor is who asks.
type visitor struct {
	Name  string // empty for whoever has the token, and where nobody signs in
	Group string
	All   bool // may see and change every job
}

type visitorKey struct{}

func withVisitor(r *http.Request, v visitor) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), visitorKey{}, v))
}

func visitorOf(r *http.Request) visitor {
	v, _ := r.Context().Value(visitorKey{}).(visitor)
	return v
}

// owns reports whether somebody may change a job: their own, their group's, and
// those that belong to nobody.
func (v visitor) owns(j *jobs.Job) bool {
	return v.All || j.Owner == "" || j.Owner == v.Name || j.Group != "" && j.Group == v.Group
}

// sees reports whether somebody may look at a job.
func (s *Server) sees(v visitor, j *jobs.Job) bool { return !s.opt.HideOthers || v.owns(j) }

// seen is sees for a search.
func (s *Server) seen(r *http.Request) func(*jobs.Job) bool {
	v := visitorOf(r)
	return func(j *jobs.Job) bool { return s.sees(v, j) }
}

// knows reports whether an answer is one that somebody may see and forget.
func (v visitor) knows(m tables.Remembered) bool {
	return v.All || m.Owner == "" || m.Owner == v.Name || m.Group != "" && m.Group == v.Group
}
