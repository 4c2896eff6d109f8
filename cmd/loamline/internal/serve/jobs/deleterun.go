package jobs

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// DeleteRun removes one run of a job with its outputs; its number is not given
// again. A run that waits or is under way is cancelled first.
func (s *Store) DeleteRun(id string, number int) (Job, error) {
	job, err := s.change(id, 0, func(j *Job) error {
		r := j.Run(number)
		switch {
		case r == nil:
			return ErrNoRun
		case r.State == StateWaiting:
			return problem.Refuse(problem.Problem{Cause: "this run is being made", Hint: "cancel it first"})
		}
		j.LastRun = max(j.LastRun, j.Latest().Number)
		j.Runs = slices.DeleteFunc(j.Runs, func(r Run) bool { return r.Number == number })
		return nil
	})
	if err != nil {
		return job, err
	}
	return job, s.dropFolder(s.runPath(id, number))
}

// dropFolder removes a folder that nothing points at any more: it is gone at
// once, for it moves to tmp/ first.
func (s *Store) dropFolder(path string) error {
	trash := filepath.Join(s.tmp(), "deleted-"+newID())
	if err := os.Rename(path, trash); errors.Is(err, os.ErrNotExist) {
		return nil
	} else if err != nil {
		return fmt.Errorf("the outputs cannot be removed: %w", err)
	}
	_ = disk.SyncDir(filepath.Dir(path))
	s.used.Add(-disk.Bytes(trash))
	return os.RemoveAll(trash)
}

// nextRun is the number of the next run.
func (j *Job) nextRun() int {
	n := j.LastRun
	if r := j.Latest(); r != nil {
		n = max(n, r.Number)
	}
	return n + 1
}
