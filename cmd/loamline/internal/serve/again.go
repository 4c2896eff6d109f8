package serve

import (
	"errors"
	"net/http"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// typed is a form as it came.
func typed(r *http.Request) map[string]string {
	out := map[string]string{}
	for k, v := range r.PostForm {
		out[k] = v[0]
	}
	return out
}

// again tells how a form is shown once more after what came of it: refused with
// problems, or against a job that was changed meanwhile, which is then the job as
// it is now. Any other error is returned.
func (s *Server) again(job *jobs.Job, err error) (refused *problem.Refused, changed bool, status int, other error) {
	switch {
	case errors.Is(err, jobs.ErrChanged):
		now, gone := s.store.Job(job.ID)
		if gone != nil {
			return nil, false, 0, gone
		}
		*job = now
		return nil, true, http.StatusConflict, nil
	case errors.As(err, &refused):
		return refused, false, http.StatusUnprocessableEntity, nil
	}
	return nil, false, 0, err
}
