package serve

import (
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/door"
)

// policy is the Content-Security-Policy of every answer but the map: scripts,
// styles and requests of this server alone, none of them inline, and nobody may
// frame it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; " +
	"form-action 'self'; frame-src 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard puts everything that must be true of any request before the handlers.
func (s *Server) guard(next http.Handler) http.Handler {
	sameOrigin := http.NewCrossOriginProtection()
	sameOrigin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, refusal{http.StatusForbidden, "Request from another site", "this request came from a page of another site, which may not act for you", nil})
	}))
	h := sameOrigin.Handler(s.atDoor(s.noted(next)))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "same-origin")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cache-Control", "no-store")
		if s.opt.CertFile != "" {
			head.Set("Strict-Transport-Security", "max-age=31536000")
		}
		if !s.hostAllowed(r.Host) {
			s.fail(w, r, refusal{http.StatusMisdirectedRequest, "Wrong host", "this server does not go by that name; use the address that it printed when it started", nil})
			return
		}
		if !isUpload(r) {
			r.Body = http.MaxBytesReader(w, r.Body, maxFormBytes)
		}
		h.ServeHTTP(w, r)
	})
}

// maxFormBytes bounds every request body but uploads.
const maxFormBytes = 1 << 20

func isUpload(r *http.Request) bool {
	return r.Method == http.MethodPost && (r.URL.Path == "/jobs" || r.URL.Path == "/api/v1/jobs")
}

// hostAllowed guards a server without sign-in against a page elsewhere whose
// name was pointed at this machine (DNS rebinding): only names that always mean
// this machine are answered. With a sign-in, the secret is bound to the name.
func (s *Server) hostAllowed(host string) bool {
	if s.door.Asks() {
		return true
	}
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	return isLoopback(strings.Trim(name, "[]"))
}

// atDoor lets those through who are known, to what is for everybody or to all of it.
func (s *Server) atDoor(next http.Handler) http.Handler {
	if !s.door.Asks() {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			next.ServeHTTP(w, door.WithVisitor(r, door.Visitor{All: true}))
		})
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		who, known, wait := s.door.Known(r)
		if by, tried := door.TriedBy(r); tried && !known && wait == 0 {
			s.noteTurnedAway(r, by, http.StatusUnauthorized) // but not who waits: guesses without end must not fill the disk
		}
		switch {
		case known:
			next.ServeHTTP(w, door.WithVisitor(r, who))
		case isOpen(r.URL.Path):
			next.ServeHTTP(w, r)
		case wait > 0:
			s.tooMany(w, r, wait)
		case strings.HasPrefix(r.URL.Path, "/api/"):
			w.Header().Set("WWW-Authenticate", `Bearer realm="loamline", Basic realm="loamline"`)
			s.fail(w, r, refusal{http.StatusUnauthorized, "Sign in", "send the token as \"Authorization: Bearer …\", or a name and password by Basic authentication", nil})
		default:
			http.Redirect(w, r, "/sign-in?to="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
		}
	})
}

// isOpen reports whether a path is for everybody: what the sign-in needs, and
// crew links, whose secret is in them.
func isOpen(path string) bool {
	return strings.HasPrefix(path, "/assets/") || path == "/sign-in" || strings.HasPrefix(path, "/crew/")
}

// tooMany answers whoever guesses too often.
func (s *Server) tooMany(w http.ResponseWriter, r *http.Request, wait time.Duration) {
	w.Header().Set("Retry-After", strconv.Itoa(int(wait/time.Second)+1))
	s.fail(w, r, refusal{http.StatusTooManyRequests, "Too many attempts", "wait a minute before the next one", nil})
}
