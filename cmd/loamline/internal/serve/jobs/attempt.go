package jobs

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/report"
)

// run makes one map and writes down how it ended.
func (m *Maker) run(ctx context.Context, t ticket) {
	log := m.store.log.With("job", t.id, "run", t.number)
	var run Run
	job, err := m.store.change(t.id, 0, func(j *Job) error {
		r := j.Run(t.number)
		if r == nil || r.State != StateWaiting {
			return ErrNoRun
		}
		r.Starts++
		run = *r
		return nil
	})
	if errors.Is(err, ErrNoRun) || errors.Is(err, ErrNoJob) {
		return // cancelled or deleted in the meantime
	}
	if err == nil && run.Starts > maxStarts {
		err = errors.New("the program stopped three times while making this map")
	}
	var result *report.Result
	begun := time.Now()
	if err == nil {
		limited, done := context.WithTimeoutCause(ctx, m.patient, fmt.Errorf("it took longer than %s", m.patient))
		result, err = m.attempt(limited, job, run, t)
		if err != nil && limited.Err() != nil {
			err = context.Cause(limited)
		}
		done()
	}
	if err == nil {
		m.mu.Lock()
		m.pace.made(job.rows(), time.Since(begun))
		m.mu.Unlock()
	}
	err = m.store.settle(t, func(r *Run) {
		switch {
		case err == nil:
			r.State, r.Summary = StateDone, result.Summary()
		case errors.Is(err, errClosing):
			r.Starts--
		case errors.Is(err, errCancelled):
			r.State = StateCancelled
		default:
			log.Warn("a map could not be made", "error", err)
			p := problem.Of(err)
			r.State, r.Problem = StateFailed, &p
		}
	})
	if err != nil && !errors.Is(err, ErrNoJob) {
		log.Error("how a run ended cannot be stored", "error", err)
	}
}

// stopPatience is how long a run that must stop may take to do so. One that is
// still in the middle of something then is left behind: it ends at its own next
// chance, and nothing of it is kept.
const stopPatience = 1200 * time.Millisecond

// attempt makes the map; a panic is the run's failure and nobody else's.
func (m *Maker) attempt(ctx context.Context, job Job, run Run, t ticket) (*report.Result, error) {
	type outcome struct {
		result *report.Result
		err    error
	}
	ended := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			if p := recover(); p != nil {
				m.store.log.Error("a map could not be made", "job", t.id, "run", t.number, "panic", p, "stack", string(debug.Stack()))
				o.err = errors.New("the program failed on this job; this is a fault in the program, please report it with the files")
			}
			ended <- o
		}()
		o.result, o.err = m.make(ctx, job, run, func(p Progress) {
			m.mu.Lock()
			defer m.mu.Unlock()
			if a := m.running[t]; a != nil && (p.Stage != a.progress.Stage || p.Done >= a.progress.Done) {
				a.progress = p
			}
		})
	}()
	select {
	case o := <-ended:
		return o.result, o.err
	case <-ctx.Done():
	}
	select {
	case o := <-ended:
		return o.result, o.err
	case <-time.After(stopPatience):
		m.store.log.Warn("a run that was stopped is left behind until it ends", "job", t.id, "run", t.number)
		return nil, context.Cause(ctx)
	}
}
