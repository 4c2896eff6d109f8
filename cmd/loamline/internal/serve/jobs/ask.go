package jobs

import (
	"context"
	"errors"
	"reflect"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/trace/intake"
)

// Ask stores that a job's map is to be made with these settings and puts it in
// the queue. revision is the one that the caller saw; the same request once more,
// as from a button that was clicked twice, is the same run.
func (m *Maker) Ask(ctx context.Context, id string, revision int, settings jobfile.Settings) (Job, error) {
	m.mu.Lock()
	if m.closed || len(m.queue)+m.coming >= m.waiting {
		m.mu.Unlock()
		return Job{}, ErrBusy
	}
	m.coming++
	m.mu.Unlock()
	job, err := m.store.ask(ctx, id, revision, settings)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.coming--
	if errors.Is(err, ErrChanged) && job.askedBy(revision, settings) {
		return job, nil
	}
	if err != nil {
		return job, err
	}
	m.queue = append(m.queue, ticket{id, job.Latest().Number})
	m.wake.Signal()
	return job, nil
}

// askedBy reports whether the last run is what such a request asked for.
func (j *Job) askedBy(revision int, settings jobfile.Settings) bool {
	r := j.Latest()
	return r != nil && r.FromRevision == revision && j.Revision == revision+1 && reflect.DeepEqual(r.Settings, settings)
}

// ask adds a run to a job.
func (s *Store) ask(ctx context.Context, id string, revision int, settings jobfile.Settings) (Job, error) {
	if err := s.roomFor(1); err != nil {
		return Job{}, err
	}
	settings = settings.Clone()
	if err := settings.Check(); err != nil {
		return Job{}, err
	}
	return s.rework(id, revision, func(j *Job) error {
		if j.Busy() {
			return problem.Refuse(problem.Problem{Cause: "the map is being made", Hint: "wait until it is done, or cancel it"})
		}
		again, err := j.stateColumns(settings.Columns)
		if err != nil {
			return err
		}
		j.Settings = settings
		if settings.Datum != "" {
			j.DatumSaid = true
		}
		if again {
			if err := s.understand(ctx, j, func(i int) intake.File { return fileAt(s.inputPath(id, i), j.Files[i]) }); err != nil {
				return err
			}
		}
		if open := j.Open(); len(open) > 0 {
			return &NotReady{open}
		}
		j.Runs = append(j.Runs, Run{Number: j.nextRun(), FromRevision: revision, Asked: s.now().UTC(), State: StateWaiting, Settings: settings.Clone()})
		return nil
	})
}
