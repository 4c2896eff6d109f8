package jobs

import (
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/trace"
)

// Limits bound what one upload may be. The zero value takes the defaults.
type Limits struct {
	UploadBytes int64 // of all files of an upload
	Files       int   // of an upload
	Rows        int   // of all readings tables of an upload
	FolderBytes int64 // that all jobs together may take; 0: as much as the disk has
}

// DefaultLimits are meant for a day's work on a small machine.
var DefaultLimits = Limits{UploadBytes: 256 << 20, Files: 64, Rows: 1_000_000}

// Errors that a caller decides on.
var (
	ErrNoJob   = errors.New("there is no such job")
	ErrChanged = errors.New("the job was changed in the meantime")
	ErrBusy    = errors.New("too many maps are waiting to be made")

	ErrFull = errors.New("the folder of jobs is full")
)

// Store is a folder of jobs. All methods may be called from any goroutine; a
// Job that is handed out is a copy.
type Store struct {
	dir     string
	version string
	limits  Limits
	office  trace.Job // what new jobs begin with
	now     func() time.Time
	log     *slog.Logger
	lock    *os.File
	memory  *tables.Memory
	crew    *crewLinks
	room    room // for what is read at the same time to be understood
	making  room // for what maps are made of at the same time
	demand  *demand

	index *index

	mu   sync.RWMutex
	jobs map[string]*entry

	used       atomic.Int64 // bytes of all jobs
	unreadable []Trouble
}

// roomFor refuses what the folder's quota has no room for.
func (s *Store) roomFor(bytes int64) error {
	if most := s.limits.FolderBytes; most > 0 && s.used.Load()+bytes > most {
		return fmt.Errorf("%w: %d of %d MB are taken", ErrFull, s.used.Load()>>20, most>>20)
	}
	return nil
}

// entry is a job in memory. Whoever reads takes the job as it is, and waits for
// nobody; mu orders changes.
type entry struct {
	mu  sync.Mutex
	job atomic.Pointer[Job] // replaced, never changed; nil once the job is gone
}

func newEntry(j *Job) *entry {
	e := &entry{}
	e.job.Store(j)
	return e
}

// OpenStore opens a folder of jobs, makes it if it is not there, and removes
// what an interrupted process left half-done. A job that cannot be read is left
// as it is and told of by Unreadable.
//
// New jobs begin with the settings of the office, such as its locator, units and rule;
// what a job file or a person says of a job replaces them.
func OpenStore(dir, version string, limits Limits, office trace.Job, log *slog.Logger) (*Store, error) {
	for _, d := range []string{dir, filepath.Join(dir, "jobs"), filepath.Join(dir, "tmp")} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			return nil, fmt.Errorf("the folder of jobs cannot be made: %w", err)
		}
	}
	lock, err := disk.Lock(filepath.Join(dir, "lock"))
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, version: version, limits: limits, office: office, now: time.Now, log: log, lock: lock,
		memory: tables.OpenMemory(filepath.Join(dir, "remembered.json")), room: newRoom(roomBytes), making: newRoom(roomBytes), demand: newDemand(), index: newIndex(), jobs: map[string]*entry{}}
	if s.crew, err = openCrewLinks(filepath.Join(dir, "crew.json")); err != nil {
		lock.Close()
		return nil, err
	}
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
			s.log.Error("a job cannot be read", "job", e.Name(), "error", err)
			s.unreadable = append(s.unreadable, Trouble{Job: e.Name(), Words: "the record of this job cannot be read (" + withoutPaths(err) + "); its files are kept as they are"})
			continue
		}
		s.jobs[job.ID] = newEntry(job)
		s.index.put(s.jobs[job.ID], job)
	}
	s.used.Store(disk.Bytes(filepath.Join(s.dir, "jobs")))
	return nil
}

// readJob reads a job and settles runs whose end was not written down: a run
// whose folder is there is done.
func (s *Store) readJob(id string) (*Job, error) {
	job := &Job{}
	if err := disk.ReadJSON(s.path(id, "job.json"), job); err != nil {
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
		var res report.Result
		if disk.ReadJSON(s.runPath(id, r.Number, "result.json"), &res) == nil {
			r.State, r.Summary, settled = StateDone, res.Summary(), true
		}
	}
	if settled {
		return job, disk.WriteJSON(s.path(id, "job.json"), job)
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
	j := e.job.Load()
	if j == nil {
		return Job{}, ErrNoJob
	}
	return *j, nil
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
	now := e.job.Load()
	if now == nil {
		return Job{}, ErrNoJob
	}
	if revision != 0 && revision != now.Revision {
		return *now, ErrChanged
	}
	next := now.clone()
	if err := f(next); err != nil {
		return *now, err
	}
	return s.replace(e, now, next, revision != 0)
}

// rework is change for an f that takes its time: nobody waits for it, and if
// the job was changed meanwhile it is ErrChanged.
func (s *Store) rework(id string, revision int, f func(*Job) error) (Job, error) {
	e, err := s.entry(id)
	if err != nil {
		return Job{}, err
	}
	for {
		now := e.job.Load()
		if now == nil {
			return Job{}, ErrNoJob
		}
		if revision != now.Revision {
			return *now, ErrChanged
		}
		next := now.clone()
		if err := f(next); err != nil {
			return *now, err
		}
		e.mu.Lock()
		if e.job.Load() != now {
			e.mu.Unlock()
			continue // a run went on, or somebody was faster: the revision tells
		}
		defer e.mu.Unlock()
		return s.replace(e, now, next, true)
	}
}

// replace stores the next state of a job; e.mu is held.
func (s *Store) replace(e *entry, now, next *Job, revised bool) (Job, error) {
	if revised {
		next.Revision++
	}
	if err := disk.WriteJSON(s.path(now.ID, "job.json"), next); err != nil {
		return *now, fmt.Errorf("the job cannot be stored: %w", err)
	}
	e.job.Store(next)
	s.index.put(e, next)
	return *next, nil
}

// deleted reports whether a job is gone, once whoever is deleting it has ended.
func (s *Store) deleted(id string) bool {
	e, err := s.entry(id)
	if err != nil {
		return true
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.job.Load() == nil
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
	if e.job.Load() == nil {
		return ErrNoJob
	}
	trash := filepath.Join(s.tmp(), "deleted-"+newID())
	if err := os.Rename(s.path(id), trash); err != nil {
		return fmt.Errorf("the job cannot be removed: %w", err)
	}
	_ = disk.SyncDir(filepath.Join(s.dir, "jobs"))
	e.job.Store(nil)
	s.index.drop(id)
	s.mu.Lock()
	delete(s.jobs, id)
	s.mu.Unlock()
	s.used.Add(-disk.Bytes(trash))
	return os.RemoveAll(trash)
}

// Default are the settings of a new job without a job file: those of the office.
func (s *Store) Default() jobfile.Settings { return jobfile.SettingsOf(s.office) }
