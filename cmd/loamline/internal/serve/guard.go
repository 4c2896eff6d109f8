package serve

import (
	"net"
	"net/http"
	"strings"
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
	h := sameOrigin.Handler(s.door.handler(s, s.audit.handler(s, next)))
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
	if s.door.asks() {
		return true
	}
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	return isLoopback(strings.Trim(name, "[]"))
}
