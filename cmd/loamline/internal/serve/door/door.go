// Package door knows who asks: by a token or a name with its password, then by a cookie; it
// bounds how often a secret may be tried, and says what somebody owns. What is answered to
// whom, and which paths are for everybody, is decided by who serves.
package door

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/bcrypt"
)

// Door lets people and programs in: by token or by name and password, and then
// by a cookie that holds for a working day.
type Door struct {
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
	who Visitor
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

// New opens for a token, where there is one, and for users by the hash of their
// password; secure says that the way to the server is encrypted.
func New(token string, users, groups map[string]string, secure bool) *Door {
	d := &Door{token: token, users: users, groups: groups, secure: secure, tries: attempts{by: map[string][]time.Time{}},
		hashing: make(chan struct{}, 2), sessions: map[[32]byte]session{}}
	if len(users) > 0 {
		d.nobody = nobody()
	}
	return d
}

// Asks reports whether anybody is asked who they are.
func (d *Door) Asks() bool { return d.token != "" || len(d.users) > 0 }

// TriedBy is whose secret came with a request, if one did.
func TriedBy(r *http.Request) (name string, tried bool) {
	if strings.HasPrefix(r.Header.Get("Authorization"), "Bearer ") {
		return "token", true
	}
	name, _, tried = r.BasicAuth()
	return name, tried
}

// Known tells who a request is from by its session, the token, or a user's name
// and password; wait is how long there may be no further try.
func (d *Door) Known(r *http.Request) (who Visitor, ok bool, wait time.Duration) {
	if c, err := r.Cookie(cookieName); err == nil {
		if who, ok := d.session(c.Value); ok {
			return who, true, 0
		}
	}
	if t, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer "); ok {
		return d.Check(r, "", t)
	}
	if name, password, ok := r.BasicAuth(); ok {
		return d.Check(r, name, password)
	}
	return Visitor{}, false, 0
}

// Check compares a secret. The token is compared whatever others at the same
// address have tried: it is too long to be guessed, and its bearer must not be
// locked out by them.
func (d *Door) Check(r *http.Request, name, secret string) (who Visitor, ok bool, wait time.Duration) {
	from := Remote(r)
	if name == "" {
		a, b := sha256.Sum256([]byte(secret)), sha256.Sum256([]byte(d.token))
		if d.token != "" && subtle.ConstantTimeCompare(a[:], b[:]) == 1 {
			return Visitor{All: true}, true, 0
		}
		return Visitor{}, false, d.tries.begin("token\n"+from, TriesOfOne)
	}
	one := name + "\n" + from
	if wait := d.tries.begin(one, TriesOfOne); wait > 0 {
		return Visitor{}, false, wait
	}
	if wait := d.tries.begin(from, triesFromOne); wait > 0 {
		return Visitor{}, false, wait
	}
	hash, found := d.users[name]
	if !found {
		hash = d.nobody // takes as long for a name that is not there
	}
	d.hashing <- struct{}{}
	right := bcrypt.CompareHashAndPassword([]byte(hash), []byte(secret)) == nil && found
	<-d.hashing
	if !right {
		return Visitor{}, false, 0
	}
	d.tries.forgive(one)
	d.tries.forgive(from)
	return Visitor{Name: name, Group: d.groups[name]}, true, 0
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

func (d *Door) session(value string) (Visitor, bool) {
	key := sha256.Sum256([]byte(value))
	d.mu.Lock()
	defer d.mu.Unlock()
	s, ok := d.sessions[key]
	if ok && time.Now().After(s.end) {
		delete(d.sessions, key)
		return Visitor{}, false
	}
	return s.who, ok
}

// Open begins a session.
func (d *Door) Open(w http.ResponseWriter, who Visitor) {
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
func (d *Door) cookie(w http.ResponseWriter, value string, seconds int) {
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: value, Path: "/", MaxAge: seconds, HttpOnly: true, Secure: d.secure, SameSite: http.SameSiteLaxMode})
}

// Remote is the address that a request comes from.
func Remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// Leave ends the session of whoever asks.
func (d *Door) Leave(w http.ResponseWriter, r *http.Request) {
	if c, err := r.Cookie(cookieName); err == nil {
		d.mu.Lock()
		delete(d.sessions, sha256.Sum256([]byte(c.Value)))
		d.mu.Unlock()
	}
	d.cookie(w, "", -1)
}
