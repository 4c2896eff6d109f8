package jobs

import (
	"os"
	"sync"
	"time"
)

// maxRemembered is how many headers are remembered; the oldest are forgotten.
const maxRemembered = 2000

// remembered is what was answered for a header.
type remembered struct {
	Answers map[string]string `json:"answers,omitempty"`
	Datum   string            `json:"datum,omitempty"`
	CRS     string            `json:"crs,omitempty"`
	Said    bool              `json:"datum_said"`
	When    time.Time         `json:"when"`
}

// memory keeps answers for the next file with the same header.
type memory struct {
	mu   sync.Mutex
	path string
	by   map[string]remembered
}

// openMemory reads what was remembered. A file that cannot be read is put
// aside: it only spares questions.
func openMemory(path string) *memory {
	m := &memory{path: path, by: map[string]remembered{}}
	if err := readJSON(path, &m.by); err != nil && !os.IsNotExist(err) {
		_ = os.Rename(path, path+".unreadable")
		m.by = map[string]remembered{}
	}
	return m
}

func (m *memory) recall(fingerprint string) (remembered, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r, ok := m.by[fingerprint]
	return r, ok
}

func (m *memory) keep(fingerprint string, r remembered) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.by[fingerprint] = r
	for len(m.by) > maxRemembered {
		oldest := ""
		for k, v := range m.by {
			if oldest == "" || v.When.Before(m.by[oldest].When) {
				oldest = k
			}
		}
		delete(m.by, oldest)
	}
	return writeJSON(m.path, m.by)
}
