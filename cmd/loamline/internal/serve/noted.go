package serve

import (
	"net/http"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/audit"
	"loamline.example/cmd/loamline/internal/serve/door"
)

// noted notes whatever changes something, is taken away, is refused as somebody
// else's, or is the form to sign in; what is only looked at is not noted. A wrong
// secret that comes with a request is noted at the door.
func (s *Server) noted(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		noted := &notedWriter{ResponseWriter: w, status: http.StatusOK}
		next.ServeHTTP(noted, r)
		if !toNote(r, noted.status) {
			return
		}
		who := door.Of(r).Name
		switch {
		case r.URL.Path == "/sign-in":
			who = r.PostForm.Get("name")
		case strings.HasPrefix(r.URL.Path, "/crew/"):
			who = "crew link"
		case who == "" && s.opt.Token != "":
			who = "token"
		}
		path := r.URL.Path
		if rest, ok := strings.CutPrefix(path, "/crew/"); ok {
			_, rest, _ = strings.Cut(rest, "/")
			path = "/crew/…/" + rest // the rest of it opens the job
		}
		s.note(r, who, path, noted.status)
	})
}

// noteTurnedAway writes down a request that no handler sees.
func (s *Server) noteTurnedAway(r *http.Request, who string, status int) {
	path := r.URL.Path
	if strings.HasPrefix(path, "/crew/") {
		path = "/crew/…"
	}
	s.note(r, who, path, status)
}

func (s *Server) note(r *http.Request, who, path string, status int) {
	s.audit.Note(audit.Line{Who: who, From: door.Remote(r), Method: r.Method, Path: path, Status: status}, inVain(r, status))
}

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

// inVain reports whether a request is one that a client can send without end and that
// changes nothing.
func inVain(r *http.Request, status int) bool {
	return status == http.StatusTooManyRequests || status >= http.StatusBadRequest && strings.HasPrefix(r.URL.Path, "/crew/")
}
