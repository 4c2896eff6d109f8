package jobs

import (
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"time"
)

// Limits bound what one upload may be. The zero value takes the defaults.
type Limits struct {
	UploadBytes int64 // of all files of an upload
	Files       int   // of an upload
	Rows        int   // of all readings tables of an upload
}

// DefaultLimits are meant for a day's work on a small machine.
var DefaultLimits = Limits{UploadBytes: 256 << 20, Files: 64, Rows: 1_000_000}

// Errors that a caller decides on.
var (
	ErrNoJob    = errors.New("there is no such job")
	ErrChanged  = errors.New("the job was changed in the meantime")
	ErrBusy     = errors.New("too many maps are waiting to be made")
	ErrNotReady = errors.New("something about the files has not been said yet")
)

// Store is a folder of jobs. All methods may be called from any goroutine; a
// Job that is handed out is a copy.
type Store struct {
	dir     string
	version string
	limits  Limits
	now     func() time.Time
	log     *slog.Logger
	lock    *os.File
	memory  *memory
	reading chan struct{} // bounds how many tables are in memory to be understood

	mu   sync.RWMutex
	jobs map[string]*entry
}

// readAtOnce is how many jobs are read to be understood at the same time: a
// table of a million rows takes some hundred megabytes while it is counted.
const readAtOnce = 2

// entry is a job in memory; mu orders changes to it.
type entry struct {
	mu   sync.Mutex
	job  *Job // replaced, never changed
	gone bool
}

// OpenStore opens a folder of jobs, makes it if it is not there, and removes
// what an interrupted process left half-done. A job that cannot be read is left
// as it is and logged.
func OpenStore(dir, version string, limits Limits, log *slog.Logger) (*Store, error) {
	for _, d := range []string{dir, filepath.Join(dir, "jobs"), filepath.Join(dir, "tmp")} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			return nil, fmt.Errorf("the folder of jobs cannot be made: %w", err)
		}
	}
	lock, err := lockFolder(filepath.Join(dir, "lock"))
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, version: version, limits: limits, now: time.Now, log: log, lock: lock,
		memory: openMemory(filepath.Join(dir, "columns.json")), reading: make(chan struct{}, readAtOnce), jobs: map[string]*entry{}}
	if err := s.clean(); err != nil {
		lock.Close()
		return nil, err
	}
	if err := s.load(); err != nil {
		lock.Close()
		return nil, err
	}
	return s, nil
}

// Close gives the folder free.
func (s *Store) Close() error { return s.lock.Close() }

// clean empties tmp/.
func (s *Store) clean() error {
	left, err := os.ReadDir(s.tmp())
	if err != nil {
		return err
	}
	for _, e := range left {
		s.log.Info("removing what was not finished", "name", e.Name())
		if err := os.RemoveAll(filepath.Join(s.tmp(), e.Name())); err != nil {
			return err
		}
	}
	return nil
}

func (s *Store) load() error {
	all, err := os.ReadDir(filepath.Join(s.dir, "jobs"))
	if err != nil {
		return err
	}
	for _, e := range all {
		if !ValidID(e.Name()) {
			continue
		}
		job, err := s.readJob(e.Name())
		if err != nil {
			s.log.Error("a job cannot be read and is not shown", "job", e.Name(), "error", err)
			continue
		}
		s.jobs[job.ID] = &entry{job: job}
	}
	return nil
}

// readJob reads a job and settles runs whose end was not written down: a run
// whose folder is there is done.
func (s *Store) readJob(id string) (*Job, error) {
	job := &Job{}
	if err := readJSON(s.path(id, "job.json"), job); err != nil {
		return nil, err
	}
	if job.ID != id {
		return nil, fmt.Errorf("it says that its id is %q", job.ID)
	}
	settled := false
	for i := range job.Runs {
		r := &job.Runs[i]
		if r.State != StateWaiting {
			continue
		}
		var res Result
		if readJSON(s.runPath(id, r.Number, "result.json"), &res) == nil {
			r.State, r.Summary, settled = StateDone, res.summary(), true
		}
	}
	if settled {
		return job, writeJSON(s.path(id, "job.json"), job)
	}
	return job, nil
}

func (s *Store) tmp() string { return filepath.Join(s.dir, "tmp") }

// path is a place in a job's folder; id must be valid.
func (s *Store) path(id string, parts ...string) string {
	return filepath.Join(append([]string{s.dir, "jobs", id}, parts...)...)
}

func (s *Store) runPath(id string, number int, parts ...string) string {
	return s.path(id, append([]string{"runs", strconv.Itoa(number)}, parts...)...)
}

func (s *Store) inputPath(id string, index int) string {
	return s.path(id, "inputs", strconv.Itoa(index))
}

func (s *Store) entry(id string) (*entry, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	e := s.jobs[id]
	if e == nil {
		return nil, ErrNoJob
	}
	return e, nil
}

// Job returns a job.
func (s *Store) Job(id string) (Job, error) {
	e, err := s.entry(id)
	if err != nil {
		return Job{}, err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.gone {
		return Job{}, ErrNoJob
	}
	return *e.job, nil
}

// change applies f to a copy of a job and stores it; nothing is changed if f or
// the disk fails. revision is the one that the caller saw, 0 where any will do.
func (s *Store) change(id string, revision int, f func(*Job) error) (Job, error) {
	e, err := s.entry(id)
	if err != nil {
		return Job{}, err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.gone {
		return Job{}, ErrNoJob
	}
	if revision != 0 && revision != e.job.Revision {
		return *e.job, ErrChanged
	}
	next := *e.job
	next.Files = append([]InputFile(nil), next.Files...)
	next.Runs = append([]Run(nil), next.Runs...)
	if err := f(&next); err != nil {
		return *e.job, err
	}
	if revision != 0 {
		next.Revision++
	}
	if err := writeJSON(s.path(id, "job.json"), &next); err != nil {
		return *e.job, fmt.Errorf("the job cannot be stored: %w", err)
	}
	e.job = &next
	return next, nil
}

// Delete removes a job with all its files. It is gone at once: the folder moves
// to tmp/ first.
func (s *Store) Delete(id string) error {
	e, err := s.entry(id)
	if err != nil {
		return err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.gone {
		return ErrNoJob
	}
	trash := filepath.Join(s.tmp(), "deleted-"+newID())
	if err := os.Rename(s.path(id), trash); err != nil {
		return fmt.Errorf("the job cannot be removed: %w", err)
	}
	_ = syncDir(filepath.Join(s.dir, "jobs"))
	e.gone = true
	s.mu.Lock()
	delete(s.jobs, id)
	s.mu.Unlock()
	return os.RemoveAll(trash)
}
