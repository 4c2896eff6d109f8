package serve

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/bcrypt"
)

// door lets people and programs in: by token or by name and password, and then
// by a cookie that holds for a working day.
type door struct {
	token   string
	users   map[string]string
	groups  map[string]string
	nobody  string // a hash that no password has
	secure  bool
	tries   attempts
	hashing chan struct{} // bounds the passwords that are compared at once

	mu       sync.Mutex
	sessions map[[32]byte]session // by the cookie's hash
}

type session struct {
	who visitor
	end time.Time
}

const (
	cookieName  = "loamline"
	sessionTime = 12 * time.Hour
)

// nobody makes a hash that no password has: once, since it takes as long to make as a
// password to try.
var nobody = sync.OnceValue(func() string {
	h, _ := MakeHash(rand.Text())
	return h
})

func newDoor(opt Options) *door {
	d := &door{token: opt.Token, users: opt.Users, groups: opt.Groups, secure: opt.encrypted(), tries: attempts{by: map[string][]time.Time{}},
		hashing: make(chan struct{}, 2), sessions: map[[32]byte]session{}}
	if len(opt.Users) > 0 {
		d.nobody = nobody()
	}
	return d
}

// asks reports whether anybody is asked who they are.
func (d *door) asks() bool { return d.token != "" || len(d.users) > 0 }

// isOpen reports whether a path is for everybody: what the sign-in needs, and
// crew links, whose secret is in them.
func isOpen(path string) bool {
	return strings.HasPrefix(path, "/assets/") || path == "/sign-in" || strings.HasPrefix(path, "/crew/")
}

func (d *door) handler(s *Server, next http.Handler) http.Handler {
	if !d.asks() {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { next.ServeHTTP(w, withVisitor(r, visitor{All: true})) })
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		who, known, wait := d.known(r)
		if by, tried := triedBy(r); tried && !known && wait == 0 {
			s.audit.note(s, r, by, http.StatusUnauthorized) // but not who waits: guesses without end must not fill the disk
		}
		switch {
		case known:
			next.ServeHTTP(w, withVisitor(r, who))
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

// triedBy is whose secret came with a request, if one did.
func triedBy(r *http.Request) (name string, tried bool) {
	if strings.HasPrefix(r.Header.Get("Authorization"), "Bearer ") {
		return "token", true
	}
	name, _, tried = r.BasicAuth()
	return name, tried
}

// tooMany answers whoever guesses too often.
func (s *Server) tooMany(w http.ResponseWriter, r *http.Request, wait time.Duration) {
	w.Header().Set("Retry-After", strconv.Itoa(int(wait/time.Second)+1))
	s.fail(w, r, refusal{http.StatusTooManyRequests, "Too many attempts", "wait a minute before the next one", nil})
}

// known tells who a request is from by its session, the token, or a user's name
// and password; wait is how long there may be no further try.
func (d *door) known(r *http.Request) (who visitor, ok bool, wait time.Duration) {
	if c, err := r.Cookie(cookieName); err == nil {
		if who, ok := d.session(c.Value); ok {
			return who, true, 0
		}
	}
	if t, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer "); ok {
		return d.check(r, "", t)
	}
	if name, password, ok := r.BasicAuth(); ok {
		return d.check(r, name, password)
	}
	return visitor{}, false, 0
}

// check compares a secret. The token is compared whatever others at the same
// address have tried: it is too long to be guessed, and its bearer must not be
// locked out by them.
func (d *door) check(r *http.Request, name, secret string) (who visitor, ok bool, wait time.Duration) {
	from := remote(r)
	if name == "" {
		a, b := sha256.Sum256([]byte(secret)), sha256.Sum256([]byte(d.token))
		if d.token != "" && subtle.ConstantTimeCompare(a[:], b[:]) == 1 {
			return visitor{All: true}, true, 0
		}
		return visitor{}, false, d.tries.begin("token\n"+from, triesOfOne)
	}
	one := name + "\n" + from
	if wait := d.tries.begin(one, triesOfOne); wait > 0 {
		return visitor{}, false, wait
	}
	if wait := d.tries.begin(from, triesFromOne); wait > 0 {
		return visitor{}, false, wait
	}
	hash, found := d.users[name]
	if !found {
		hash = d.nobody // takes as long for a name that is not there
	}
	d.hashing <- struct{}{}
	right := bcrypt.CompareHashAndPassword([]byte(hash), []byte(secret)) == nil && found
	<-d.hashing
	if !right {
		return visitor{}, false, 0
	}
	d.tries.forgive(one)
	d.tries.forgive(from)
	return visitor{Name: name, Group: d.groups[name]}, true, 0
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

func (d *door) session(value string) (visitor, bool) {
	key := sha256.Sum256([]byte(value))
	d.mu.Lock()
	defer d.mu.Unlock()
	s, ok := d.sessions[key]
	if ok && time.Now().After(s.end) {
		delete(d.sessions, key)
		return visitor{}, false
	}
	return s.who, ok
}

// open begins a session.
func (d *door) open(w http.ResponseWriter, who visitor) {
	value := rand.Text()
	d.mu.Lock()
	now := time.Now()
	for k, s := range d.sessions {
		if now.After(s.end) {
			delete(d.sessions, k)
		}
	}
	d.sessions[sha256.Sum256([]byte(value))] = session{who, now.Add(sessionTime)}
	d.mu.Unlock()
	d.cookie(w, value, int(sessionTime.Seconds()))
}

// cookie is sent along by a link from elsewhere, such as one in a mail, but by
// no form or script from there; those are turned away by their origin as well.
func (d *door) cookie(w http.ResponseWriter, value string, seconds int) {
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: value, Path: "/", MaxAge: seconds, HttpOnly: true, Secure: d.secure, SameSite: http.SameSiteLaxMode})
}

// signOut ends the session of whoever asks.
func (s *Server) signOut(w http.ResponseWriter, r *http.Request) {
	if c, err := r.Cookie(cookieName); err == nil {
		s.door.mu.Lock()
		delete(s.door.sessions, sha256.Sum256([]byte(c.Value)))
		s.door.mu.Unlock()
	}
	s.door.cookie(w, "", -1)
	http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
}

func remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
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
		who, ok, wait := s.door.check(r, name, secret)
		status := http.StatusUnauthorized
		switch {
		case wait > 0:
			status, view.Wrong = http.StatusTooManyRequests, "Too many attempts. Wait a minute."
			w.Header().Set("Retry-After", strconv.Itoa(int(wait/time.Second)+1))
		case ok:
			s.door.open(w, who)
			http.Redirect(w, r, to, http.StatusSeeOther)
			return
		default:
			view.Wrong = "That is not right. Check the name and the password or token."
		}
		s.show(w, r, status, "sign-in", "Sign in", view)
		return
	}
	s.show(w, r, http.StatusOK, "sign-in", "Sign in", view)
}

type signInView struct {
	To, Wrong    string
	Users, Token bool
}
