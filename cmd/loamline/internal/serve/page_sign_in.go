package serve

import (
	"net/http"
	"strconv"
	"strings"
	"time"
)

// signOut ends the session of whoever asks.
func (s *Server) signOut(w http.ResponseWriter, r *http.Request) {
	s.door.Leave(w, r)
	http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
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
		who, ok, wait := s.door.Check(r, name, secret)
		status := http.StatusUnauthorized
		switch {
		case wait > 0:
			status, view.Wrong = http.StatusTooManyRequests, "Too many attempts. Wait a minute."
			w.Header().Set("Retry-After", strconv.Itoa(int(wait/time.Second)+1))
		case ok:
			s.door.Open(w, who)
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
