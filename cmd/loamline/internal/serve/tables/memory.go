package tables

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"sync"
	"time"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// maxRemembered is how many instruments are remembered; the oldest are forgotten.
const maxRemembered = 2000

// Remembered is what was answered about the files of one instrument: one header
// at one place. It is only ever offered, and used once somebody has said that it
// is still right.
type Remembered struct {
	Key         string             `json:"key"`
	Fingerprint string             `json:"header_fingerprint"`
	Headers     []string           `json:"headers"`
	Answers     map[string]string  `json:"answers"`
	NoDepth     bool               `json:"no_depth,omitempty"`
	Datum       string             `json:"datum,omitempty"`
	DatumSaid   bool               `json:"datum_said"`
	CRS         string             `json:"crs,omitempty"`
	Place       *whereabouts.Place `json:"place,omitempty"`
	Owner       string             `json:"owner,omitempty"`
	Group       string             `json:"group,omitempty"`
	For         string             `json:"for"` // the job that it was answered on
	On          time.Time          `json:"on"`
}

// Day is the day on which it was answered.
func (r Remembered) Day() string { return r.On.Format(time.DateOnly) }

// Memory keeps what was answered, the newest last.
type Memory struct {
	mu   sync.Mutex
	path string
	all  []Remembered
}

// OpenMemory reads what was remembered. A file that cannot be read is put
// aside: it only spares questions.
func OpenMemory(path string) *Memory {
	m := &Memory{path: path}
	if err := disk.ReadJSON(path, &m.all); err != nil && !os.IsNotExist(err) {
		_ = os.Rename(path, path+".unreadable")
		m.all = nil
	}
	return m
}

// Recall returns the newest answers for a header that were given at the place
// of a file, by its owner or somebody of their group; placed tells where a file would lie with certain answers.
func (m *Memory) Recall(fingerprint, owner, group string, placed func(answers map[string]string) *whereabouts.Place) *Remembered {
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
		if here := placed(r.Answers); r.Place.Near(here) {
			return r
		}
	}
	return nil
}

// Keep remembers, in place of what was answered for the same instrument before.
func (m *Memory) Keep(r Remembered) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	next := slices.DeleteFunc(slices.Clone(m.all), func(o Remembered) bool {
		return o.Fingerprint == r.Fingerprint && o.Owner == r.Owner && o.Place.Near(r.Place)
	})
	h := sha256.Sum256(fmt.Appendf(nil, "%s %v %s", r.Fingerprint, r.Place, r.On.Format(time.RFC3339Nano)))
	r.Key = hex.EncodeToString(h[:8])
	next = append(next, r)
	next = next[max(0, len(next)-maxRemembered):]
	return m.put(next)
}

// put stores a new list; the old one stays if the disk fails.
func (m *Memory) put(next []Remembered) error {
	if err := disk.WriteJSON(m.path, next); err != nil {
		return fmt.Errorf("the answers cannot be remembered: %w", err)
	}
	m.all = next
	return nil
}

// NewestFirst lists what was answered, the newest first.
func (m *Memory) NewestFirst() []Remembered {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := slices.Clone(m.all)
	slices.Reverse(out)
	return out
}

// ErrNotRemembered is why there is nothing to forget.
var ErrNotRemembered = errors.New("nothing is remembered under this key")

// Forget removes what is remembered under a key.
func (m *Memory) Forget(key string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	next := slices.DeleteFunc(slices.Clone(m.all), func(r Remembered) bool { return r.Key == key })
	if len(next) == len(m.all) {
		return ErrNotRemembered
	}
	return m.put(next)
}
