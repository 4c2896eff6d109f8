package serve

import (
	"encoding/json"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// auditLine is one thing that somebody did.
type auditLine struct {
	When   string `json:"when"`
	Who    string `json:"who"`
	From   string `json:"from"` // address
	Method string `json:"method"`
	Path   string `json:"path"`
	Status int    `json:"status"`
	Times  int    `json:"times,omitempty"` // of requests in vain: how many the line stands for, if more than itself
}

// audit is the log of who did what. It only grows: it is opened for appending
// alone.
type audit struct {
	mu  sync.Mutex
	to  *os.File
	now func() time.Time

	hammering hammering
}

func openAudit(dir string) (*audit, error) {
	f, err := os.OpenFile(filepath.Join(dir, "audit.jsonl"), os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	return &audit{to: f, now: time.Now}, err
}

func (a *audit) write(l auditLine) error {
	text, err := json.Marshal(l)
	if err != nil {
		return err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	_, err = a.to.Write(append(text, '\n'))
	return err
}

// handler notes whatever changes something, is taken away, is refused as somebody
// else's, or is the form to sign in; what is only looked at is not noted. A wrong
// secret that comes with a request is noted at the door.
func (a *audit) handler(s *Server, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		noted := &notedWriter{ResponseWriter: w, status: http.StatusOK}
		next.ServeHTTP(noted, r)
		if !toNote(r, noted.status) {
			return
		}
		who := visitorOf(r).Name
		switch {
		case r.URL.Path == "/sign-in":
			who = r.PostForm.Get("name")
		case strings.HasPrefix(r.URL.Path, "/crew/"):
			who = "crew link"
		case who == "" && s.door.token != "":
			who = "token"
		}
		path := r.URL.Path
		if rest, ok := strings.CutPrefix(path, "/crew/"); ok {
			_, rest, _ = strings.Cut(rest, "/")
			path = "/crew/…/" + rest // the rest of it opens the job
		}
		a.line(s, r, who, path, noted.status)
	})
}

// note writes down a request that no handler sees.
func (a *audit) note(s *Server, r *http.Request, who string, status int) {
	path := r.URL.Path
	if strings.HasPrefix(path, "/crew/") {
		path = "/crew/…"
	}
	a.line(s, r, who, path, status)
}

func (a *audit) line(s *Server, r *http.Request, who, path string, status int) {
	now := a.now()
	l := auditLine{When: now.UTC().Format(time.RFC3339), Who: who, From: remote(r), Method: r.Method, Path: path, Status: status}
	var lines []auditLine
	if inVain(r, status) {
		lines = a.hammering.take(l, now)
	} else {
		lines = append(a.hammering.over(now), l)
	}
	for _, l := range lines {
		if err := a.write(l); err != nil {
			s.opt.Log.Error("the audit log cannot be written", "error", err)
		}
	}
}

// flush writes what was counted and is not noted yet.
func (a *audit) flush() error {
	var all error
	for _, l := range a.hammering.over(a.now().Add(hammerEvery)) {
		all = errors.Join(all, a.write(l))
	}
	return all
}

func (a *audit) close() error { return errors.Join(a.flush(), a.to.Close()) }

func toNote(r *http.Request, status int) bool {
	p := r.URL.Path
	return r.Method != http.MethodGet && r.Method != http.MethodHead || status == http.StatusForbidden ||
		strings.Contains(p, "/files/") || strings.HasSuffix(p, "/zip") || strings.HasPrefix(p, "/crew/")
}

// notedWriter remembers the status.
type notedWriter struct {
	http.ResponseWriter
	status int
}

func (w *notedWriter) WriteHeader(status int) {
	w.status = status
	w.ResponseWriter.WriteHeader(status)
}

// Unwrap lets deadlines be set.
func (w *notedWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }
