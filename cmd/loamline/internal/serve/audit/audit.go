// Package audit writes down who did what, when and from where, a line a deed, into a file that
// only grows, and so that whoever hammers at the server cannot fill the disk with it. Which
// requests are worth a line, and what of their paths is secret, is known above.
package audit

import (
	"encoding/json"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Line is one thing that somebody did.
type Line struct {
	When   string `json:"when"`
	Who    string `json:"who"`
	From   string `json:"from"` // address
	Method string `json:"method"`
	Path   string `json:"path"`
	Status int    `json:"status"`
	Times  int    `json:"times,omitempty"` // of requests in vain: how many the line stands for, if more than itself
}

// Log is the log of who did what. It only grows: it is opened for appending
// alone.
type Log struct {
	mu  sync.Mutex
	to  *os.File
	log *slog.Logger

	Now func() time.Time // the clock

	hammering hammering
}

// Open opens the log in a folder; that it cannot be written later is told to log.
func Open(dir string, log *slog.Logger) (*Log, error) {
	f, err := os.OpenFile(filepath.Join(dir, "audit.jsonl"), os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	return &Log{to: f, Now: time.Now, log: log}, err
}

func (a *Log) write(l Line) error {
	text, err := json.Marshal(l)
	if err != nil {
		return err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	_, err = a.to.Write(append(text, '\n'))
	return err
}

// Flush writes what was counted and is not noted yet.
func (a *Log) Flush() error {
	var all error
	for _, l := range a.hammering.over(a.Now().Add(hammerEvery)) {
		all = errors.Join(all, a.write(l))
	}
	return all
}

// Close writes what was counted and closes the file.
func (a *Log) Close() error { return errors.Join(a.Flush(), a.to.Close()) }

// Note writes a line down as of now. Those of requests in vain, which a client can send
// without end, are kept to one a minute.
func (a *Log) Note(l Line, inVain bool) {
	now := a.Now()
	l.When = now.UTC().Format(time.RFC3339)
	var lines []Line
	if inVain {
		lines = a.hammering.take(l, now)
	} else {
		lines = append(a.hammering.over(now), l)
	}
	for _, l := range lines {
		if err := a.write(l); err != nil {
			a.log.Error("the audit log cannot be written", "error", err)
		}
	}
}
