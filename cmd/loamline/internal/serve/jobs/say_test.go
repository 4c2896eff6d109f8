package jobs

import (
	"errors"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/problem"
)

// A column under a name of ours is read whatever is answered: that it is not to
// be used is refused, with what to do, and never passed over.
func TestOwnNameIsNeverUnused(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job := handIn(t, s, "A-1")
	_, err := s.Say(t.Context(), job.ID, job.Revision, Answer{Columns: map[string]map[string]string{"walk.csv": {"depth_m": "-"}}})
	var refused *problem.Refused
	if !errors.As(err, &refused) || refused.Problems[0].Field != "depth_m" || !strings.Contains(refused.Problems[0].Hint, "rename it") {
		t.Errorf("%v", err)
	}
}
