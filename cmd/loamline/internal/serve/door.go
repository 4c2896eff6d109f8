package serve

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/bcrypt"
)

// door lets people and programs in: by token or by name and password, and then
// by a cookie that holds for a working day.
type door struct {
	token  string
	users  map[string]string
	nobody string // a hash that no password has
	secure bool

	mu       sync.Mutex
	sessions map[[32]byte]time.Time // hash of the cookie, and when it ends
	misses   map[string][]time.Time // by remote address
}

const (
	cookieName  = "loamline"
	sessionTime = 12 * time.Hour
	maxMisses   = 10 // in a minute from one address
)

func newDoor(opt Options) *door {
	d := &door{token: opt.Token, users: opt.Users, secure: opt.CertFile != "", sessions: map[[32]byte]time.Time{}, misses: map[string][]time.Time{}}
	if len(opt.Users) > 0 {
		d.nobody, _ = MakeHash(rand.Text())
	}
	return d
}

// asks reports whether anybody is asked who they are.
func (d *door) asks() bool { return d.token != "" || len(d.users) > 0 }

func (d *door) handler(s *Server, next http.Handler) http.Handler {
	if !d.asks() {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		open := strings.HasPrefix(r.URL.Path, "/assets/") || r.URL.Path == "/sign-in"
		switch {
		case open || d.known(r):
			next.ServeHTTP(w, r)
		case strings.HasPrefix(r.URL.Path, "/api/"):
			w.Header().Set("WWW-Authenticate", `Bearer realm="loamline", Basic realm="loamline"`)
			s.fail(w, r, refusal{http.StatusUnauthorized, "Sign in", "send the token as \"Authorization: Bearer …\", or a name and password by Basic authentication", nil})
		default:
			http.Redirect(w, r, "/sign-in?to="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
		}
	})
}

// known reports whether a request carries a session, the token or a user's
// name and password.
func (d *door) known(r *http.Request) bool {
	if c, err := r.Cookie(cookieName); err == nil && d.session(c.Value) {
		return true
	}
	if auth := r.Header.Get("Authorization"); auth == "" || !d.mayTry(r) {
		return false
	}
	if t, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer "); ok {
		return d.check(r, "", t)
	}
	name, password, ok := r.BasicAuth()
	return ok && d.check(r, name, password)
}

// check compares a secret, and notes a miss.
func (d *door) check(r *http.Request, name, secret string) bool {
	ok := false
	if name == "" {
		a, b := sha256.Sum256([]byte(secret)), sha256.Sum256([]byte(d.token))
		ok = d.token != "" && subtle.ConstantTimeCompare(a[:], b[:]) == 1
	} else {
		hash, found := d.users[name]
		if !found {
			hash = d.nobody // takes as long for a name that is not there
		}
		ok = bcrypt.CompareHashAndPassword([]byte(hash), []byte(secret)) == nil && found
	}
	if !ok {
		d.miss(r)
	}
	return ok
}

// MakeHash is the hash of a password for a user list.
func MakeHash(password string) (string, error) {
	if len(password) < 10 {
		return "", fmt.Errorf("the password has %d characters: take at least 10", len(password))
	}
	h, err := bcrypt.GenerateFromPassword([]byte(password), 12)
	return string(h), err
}

// CheckHash reports whether a text is a hash as a user list has it.
func CheckHash(hash string) error {
	_, err := bcrypt.Cost([]byte(hash))
	return err
}

func (d *door) session(value string) bool {
	key := sha256.Sum256([]byte(value))
	d.mu.Lock()
	defer d.mu.Unlock()
	end, ok := d.sessions[key]
	if ok && time.Now().After(end) {
		delete(d.sessions, key)
		return false
	}
	return ok
}

// open begins a session.
func (d *door) open(w http.ResponseWriter) {
	value := rand.Text()
	d.mu.Lock()
	now := time.Now()
	for k, end := range d.sessions {
		if now.After(end) {
			delete(d.sessions, k)
		}
	}
	d.sessions[sha256.Sum256([]byte(value))] = now.Add(sessionTime)
	d.mu.Unlock()
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: value, Path: "/", MaxAge: int(sessionTime.Seconds()),
		HttpOnly: true, Secure: d.secure, SameSite: http.SameSiteStrictMode})
}

func remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// mayTry reports whether an address has not failed too often of late.
func (d *door) mayTry(r *http.Request) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	recent := d.misses[remote(r)]
	for len(recent) > 0 && time.Since(recent[0]) > time.Minute {
		recent = recent[1:]
	}
	if len(recent) == 0 {
		delete(d.misses, remote(r))
		return true
	}
	d.misses[remote(r)] = recent
	return len(recent) < maxMisses
}

func (d *door) miss(r *http.Request) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.misses[remote(r)] = append(d.misses[remote(r)], time.Now())
}

// signIn is the page's form.
func (s *Server) signIn(w http.ResponseWriter, r *http.Request) {
	to := r.FormValue("to")
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n") {
		to = "/"
	}
	view := signInView{To: to, Users: len(s.opt.Users) > 0, Token: s.opt.Token != ""}
	if r.Method == http.MethodPost {
		name, secret := r.PostFormValue("name"), r.PostFormValue("secret")
		switch {
		case !s.door.mayTry(r):
			view.Wrong = "Too many tries. Wait a minute."
		case s.door.check(r, name, secret):
			s.door.open(w)
			http.Redirect(w, r, to, http.StatusSeeOther)
			return
		default:
			view.Wrong = "That is not right. Check the name and the password or token."
		}
		s.show(w, r, http.StatusUnauthorized, "sign-in", "Sign in", view)
		return
	}
	s.show(w, r, http.StatusOK, "sign-in", "Sign in", view)
}

type signInView struct {
	To, Wrong    string
	Users, Token bool
}
