package serve

import (
	"net/http"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// sees reports whether somebody may look at a job.
func (s *Server) sees(v door.Visitor, j *jobs.Job) bool {
	return !s.opt.HideOthers || v.Owns(j.Owner, j.Group)
}

// seen is sees for a search.
func (s *Server) seen(r *http.Request) func(*jobs.Job) bool {
	v := door.Of(r)
	return func(j *jobs.Job) bool { return s.sees(v, j) }
}
