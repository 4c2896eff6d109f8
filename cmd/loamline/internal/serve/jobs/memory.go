package jobs

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// maxRemembered is how many instruments are remembered; the oldest are forgotten.
const maxRemembered = 2000

// Remembered is what was answered about the files of one instrument: one header
// at one place. It is only ever offered, and used once somebody has said that it
// is still right.
type Remembered struct {
	Key         string            `json:"key"`
	Fingerprint string            `json:"header_fingerprint"`
	Headers     []string          `json:"headers"`
	Answers     map[string]string `json:"answers"`
	NoDepth     bool              `json:"no_depth,omitempty"`
	Datum       string            `json:"datum,omitempty"`
	DatumSaid   bool              `json:"datum_said"`
	CRS         string            `json:"crs,omitempty"`
	Place       *Place            `json:"place,omitempty"`
	Owner       string            `json:"owner,omitempty"`
	Group       string            `json:"group,omitempty"`
	For         string            `json:"for"` // the job that it was answered on
	On          time.Time         `json:"on"`
}

// Day is the day on which it was answered.
func (r Remembered) Day() string { return r.On.Format(time.DateOnly) }

// memory keeps what was answered, the newest last.
type memory struct {
	mu   sync.Mutex
	path string
	all  []Remembered
}

// openMemory reads what was remembered. A file that cannot be read is put
// aside: it only spares questions.
func openMemory(path string) *memory {
	m := &memory{path: path}
	if err := readJSON(path, &m.all); err != nil && !os.IsNotExist(err) {
		_ = os.Rename(path, path+".unreadable")
		m.all = nil
	}
	return m
}

// recall returns the newest answers for a header that were given at the place
// of a file, by its owner or somebody of their group; placed tells where a file would lie with certain answers.
func (m *memory) recall(fingerprint, owner, group string, placed func(answers map[string]string) *Place) *Remembered {
	m.mu.Lock()
	all := slices.Clone(m.all)
	m.mu.Unlock()
	tried := 0
	for i := len(all) - 1; i >= 0 && tried < 8; i-- {
		r := &all[i]
		if r.Fingerprint != fingerprint || r.Owner != "" && r.Owner != owner && (r.Group == "" || r.Group != group) {
			continue
		}
		tried++
		if here := placed(r.Answers); r.Place.near(here) {
			return r
		}
	}
	return nil
}

// keep remembers, in place of what was answered for the same instrument before.
func (m *memory) keep(r Remembered) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	next := slices.DeleteFunc(slices.Clone(m.all), func(o Remembered) bool {
		return o.Fingerprint == r.Fingerprint && o.Owner == r.Owner && o.Place.near(r.Place)
	})
	h := sha256.Sum256(fmt.Appendf(nil, "%s %v %s", r.Fingerprint, r.Place, r.On.Format(time.RFC3339Nano)))
	r.Key = hex.EncodeToString(h[:8])
	next = append(next, r)
	next = next[max(0, len(next)-maxRemembered):]
	return m.put(next)
}

// put stores a new list; the old one stays if the disk fails.
func (m *memory) put(next []Remembered) error {
	if err := writeJSON(m.path, next); err != nil {
		return fmt.Errorf("the answers cannot be remembered: %w", err)
	}
	m.all = next
	return nil
}

// Remembered lists what was answered for earlier files, the newest first.
func (s *Store) Remembered() []Remembered {
	s.memory.mu.Lock()
	defer s.memory.mu.Unlock()
	out := slices.Clone(s.memory.all)
	slices.Reverse(out)
	return out
}

// Forget removes what is remembered under a key.
func (s *Store) Forget(key string) error {
	m := s.memory
	m.mu.Lock()
	defer m.mu.Unlock()
	next := slices.DeleteFunc(slices.Clone(m.all), func(r Remembered) bool { return r.Key == key })
	if len(next) == len(m.all) {
		return ErrNotRemembered
	}
	return m.put(next)
}

func (s *Store) rememberAnswers(job Job) error {
	for i, f := range job.Files {
		if f.Table == nil || f.Table.Asks() || len(f.Table.Answers) == 0 && !f.Table.NoDepth && !job.DatumSaid {
			continue
		}
		r := Remembered{Fingerprint: f.Table.Fingerprint, Answers: f.Table.Answers, NoDepth: f.Table.NoDepth, Datum: job.Settings.Datum, DatumSaid: job.DatumSaid,
			Owner: job.Owner, Group: job.Group, For: job.Title(), On: s.now().UTC().Truncate(time.Second)}
		for _, c := range f.Table.Columns {
			r.Headers = append(r.Headers, c.Header)
		}
		if f.Table.Projected() {
			r.CRS = job.Settings.CRS
		}
		r.Place = placeOfTable(fileAt(s.inputPath(job.ID, i), f), columnMap(f.Table.Answers, job.Settings.Columns))
		if r.Place == nil {
			continue // nobody could tell where it may be offered again
		}
		if err := s.memory.keep(r); err != nil {
			return err
		}
	}
	return nil
}

// Title is what a job goes by: its ticket, else its name.
func (j *Job) Title() string {
	if t := strings.TrimSpace(j.Settings.Ticket); t != "" {
		return t
	}
	return j.Name
}
