package batch

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"loamline.example/export"
)

// log writes a line a job as each is through, so that a batch can be watched and
// an interrupt loses none; at the end the lines are brought into the order of the
// jobs.
type log struct {
	path string
	mu   sync.Mutex
	f    *os.File
	err  error
}

func openLog(path string) (*log, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return nil, fmt.Errorf("%s: the log cannot be written: choose another place with --log: %w", path, err)
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_TRUNC|os.O_APPEND, 0o666)
	if err != nil {
		return nil, fmt.Errorf("%s: the log cannot be written: choose another place with --log: %w", path, err)
	}
	return &log{path: path, f: f}, nil
}

// add writes a line, whole in one write.
func (l *log) add(e Entry) {
	line, err := json.Marshal(e)
	l.mu.Lock()
	defer l.mu.Unlock()
	if err == nil {
		_, err = l.f.Write(append(line, '\n'))
	}
	if l.err == nil {
		l.err = err
	}
}

// finish puts the lines in order.
func (l *log) finish(entries []Entry) error {
	l.f.Close()
	if l.err != nil {
		return fmt.Errorf("%s: the log could not be written: %w", l.path, l.err)
	}
	return export.WriteFiles([]export.Output{{Path: l.path, Write: func(w io.Writer) error {
		e := json.NewEncoder(w)
		for i := range entries {
			if err := e.Encode(entries[i]); err != nil {
				return err
			}
		}
		return nil
	}}})
}
