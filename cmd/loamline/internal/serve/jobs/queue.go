package jobs

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"

	"loamline.example/cmd/loamline/internal/serve/report"
)

// Stages of a run that is under way.
const (
	stageReading = "reading the files"
	stageFitting = "fitting the lines"
	stageWriting = "writing the map"
)

// Progress is how far a run is.
type Progress struct {
	State State  `json:"state"`
	Stage string `json:"stage,omitempty"`
	Done  int    `json:"done"` // lines fitted
	Total int    `json:"total"`
	Ahead int    `json:"ahead"` // runs that wait before this one
	// SecondsLeft is an estimate by the lines of the run that are fitted, else by the maps
	// made since the program was started; 0 where there is none.
	SecondsLeft int `json:"seconds_left,omitempty"`
}

// Maker makes maps, a few at a time, in the order in which they were asked for.
type Maker struct {
	store   *Store
	make    func(context.Context, Job, Run, func(Progress)) (*report.Result, error)
	atOnce  int
	waiting int           // most runs that may wait
	patient time.Duration // longest that one run may take

	mu      sync.Mutex
	wake    *sync.Cond
	queue   []ticket
	coming  int // runs about to be put into the queue
	running map[ticket]*activity
	pace    pace
	closed  bool
	done    sync.WaitGroup
}

// ticket is a run of a job.
type ticket struct {
	id     string
	number int
}

type activity struct {
	stop     context.CancelCauseFunc
	since    time.Time
	progress Progress
}

// MakerOptions bound the work; zero values take the defaults.
type MakerOptions struct {
	AtOnce  int
	Waiting int
	Patient time.Duration
}

// maxStarts is how often a run is begun: one that takes the process down with
// it must not do so at every start.
const maxStarts = 3

var (
	errCancelled = errors.New("cancelled")
	errClosing   = errors.New("the server is shutting down")
)

// NewMaker starts making maps, first those that an earlier process left.
func NewMaker(store *Store, opt MakerOptions) *Maker {
	m := &Maker{store: store, make: store.make, atOnce: orDefault(opt.AtOnce, 2), waiting: orDefault(opt.Waiting, 500),
		patient: time.Duration(orDefault(int(opt.Patient), int(30*time.Minute))), running: map[ticket]*activity{}}
	m.wake = sync.NewCond(&m.mu)
	m.queue = store.unfinished()
	for range m.atOnce {
		m.done.Add(1)
		go m.work()
	}
	return m
}

func orDefault(v, otherwise int) int {
	if v > 0 {
		return v
	}
	return otherwise
}

// unfinished lists the runs that wait, the oldest first.
func (s *Store) unfinished() []ticket {
	type asked struct {
		ticket
		at time.Time
	}
	var all []asked
	s.mu.RLock()
	for id, e := range s.jobs {
		job := e.job.Load()
		if job == nil {
			continue
		}
		for _, r := range job.Runs {
			if r.State == StateWaiting {
				all = append(all, asked{ticket{id, r.Number}, r.Asked})
			}
		}
	}
	s.mu.RUnlock()
	slices.SortFunc(all, func(a, b asked) int { return a.at.Compare(b.at) })
	out := make([]ticket, len(all))
	for i, a := range all {
		out[i] = a.ticket
	}
	return out
}

// Progress tells how far a run is.
func (m *Maker) Progress(id string, number int) (Progress, error) {
	t := ticket{id, number}
	job, err := m.store.Job(id)
	if err != nil {
		return Progress{}, err
	}
	m.mu.Lock()
	if a := m.running[t]; a != nil {
		defer m.mu.Unlock()
		p := a.progress
		p.SecondsLeft = m.pace.leftOf(job.rows(), time.Since(a.since), p)
		return p, nil
	}
	ahead, left := slices.Index(m.queue, t), 0
	if ahead >= 0 {
		if left = m.pace.secondsLeft(job.rows(), 0); left > 0 {
			left += m.secondsBefore(ahead)
		}
	}
	m.mu.Unlock()
	r := job.Run(number)
	if r == nil {
		return Progress{}, ErrNoRun
	}
	return Progress{State: r.State, Ahead: max(0, ahead), SecondsLeft: left}, nil
}

// Cancel stops a run that waits or is under way. It is no error to cancel one
// that has ended.
func (m *Maker) Cancel(id string, number int) error {
	t := ticket{id, number}
	m.mu.Lock()
	if a := m.running[t]; a != nil {
		a.stop(errCancelled)
		m.mu.Unlock()
		return nil
	}
	i := slices.Index(m.queue, t)
	if i >= 0 {
		m.queue = slices.Delete(m.queue, i, i+1)
	}
	m.mu.Unlock()
	return m.store.settle(t, func(r *Run) { r.State = StateCancelled })
}

// settle writes down the end of a run that waits. If the disk does not take it,
// the end holds as long as the process lives: nobody may wait for a run that
// nobody makes. The next start makes it again.
func (s *Store) settle(t ticket, end func(*Run)) error {
	ended := func(j *Job) error {
		r := j.Run(t.number)
		if r == nil {
			return ErrNoRun
		}
		if r.State == StateWaiting {
			end(r)
		}
		return nil
	}
	_, err := s.change(t.id, 0, ended)
	if err == nil || errors.Is(err, ErrNoJob) || errors.Is(err, ErrNoRun) {
		return err
	}
	s.log.Error("how a run ended is not on the disk", "job", t.id, "run", t.number, "error", err)
	e, gone := s.entry(t.id)
	if gone != nil {
		return gone
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	now := e.job.Load()
	if now == nil {
		return ErrNoJob
	}
	next := now.clone()
	if err := ended(next); err != nil {
		return err
	}
	e.job.Store(next)
	s.index.put(e, next)
	return nil
}

// Delete removes a job, after stopping what runs of it.
func (m *Maker) Delete(id string) error {
	m.mu.Lock()
	m.queue = slices.DeleteFunc(m.queue, func(t ticket) bool { return t.id == id })
	for t, a := range m.running {
		if t.id == id {
			a.stop(errCancelled)
		}
	}
	m.mu.Unlock()
	return m.store.Delete(id)
}

// Close stops what runs; it is made again at the next start. It can be called
// again.
func (m *Maker) Close() {
	m.mu.Lock()
	m.closed = true
	for _, a := range m.running {
		a.stop(errClosing)
	}
	m.wake.Broadcast()
	m.mu.Unlock()
	m.done.Wait()
}

func (m *Maker) work() {
	defer m.done.Done()
	for {
		t, ctx, stop := m.next()
		if ctx == nil {
			return
		}
		m.run(ctx, t)
		stop(nil)
		m.mu.Lock()
		delete(m.running, t)
		m.mu.Unlock()
	}
}

// next waits for the next run; ctx is nil once the maker is closed.
func (m *Maker) next() (ticket, context.Context, context.CancelCauseFunc) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for len(m.queue) == 0 && !m.closed {
		m.wake.Wait()
	}
	if m.closed {
		return ticket{}, nil, nil
	}
	t := m.queue[0]
	m.queue = m.queue[1:]
	ctx, stop := context.WithCancelCause(context.Background())
	m.running[t] = &activity{stop: stop, since: time.Now(), progress: Progress{State: StateRunning, Stage: stageReading}}
	return t, ctx, stop
}
