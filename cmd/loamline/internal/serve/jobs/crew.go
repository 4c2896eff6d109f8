package jobs

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"sync"
	"time"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// CrewLink opens one job for looking, without an account, until it ends. Only
// the sum of its secret is kept.
type CrewLink struct {
	Sum   string    `json:"sum"`
	Job   string    `json:"job"`
	By    string    `json:"by,omitempty"`
	Made  time.Time `json:"made"`
	Until time.Time `json:"until"`
}

// Day is the last day on which it opens.
func (l CrewLink) Day() string { return l.Until.Format(time.DateOnly) }

// ErrNoLink is why a crew link opens nothing.
var ErrNoLink = errors.New("this link has expired or never existed")

type crewLinks struct {
	mu   sync.Mutex
	path string
	all  []CrewLink
}

func openCrewLinks(path string) (*crewLinks, error) {
	c := &crewLinks{path: path}
	if err := disk.ReadJSON(path, &c.all); err != nil && !os.IsNotExist(err) {
		return nil, fmt.Errorf("%s cannot be read: move it away, and create the crews' links again: %w", path, err)
	}
	return c, nil
}

// MakeCrewLink makes a link for a job and returns its secret.
func (s *Store) MakeCrewLink(id, by string, days int) (string, error) {
	if _, err := s.Job(id); err != nil {
		return "", err
	}
	if days < 1 || days > 366 {
		return "", problem.Refuse(problem.Problem{Field: "days", Cause: "a link can last 1 to 366 days"})
	}
	secret, now := newID(), s.now().UTC().Truncate(time.Second)
	c := s.crew
	c.mu.Lock()
	defer c.mu.Unlock()
	next := withoutEnded(c.all, now)
	next = append(next, CrewLink{sumOfSecret(secret), id, by, now, now.AddDate(0, 0, days)})
	if err := disk.WriteJSON(c.path, next); err != nil {
		return "", fmt.Errorf("the link cannot be stored: %w", err)
	}
	c.all = next
	return secret, nil
}

// mostEnded is how many links that have ended are kept: a clock that jumps ahead
// and comes back must not cost anybody a link.
const mostEnded = 1000

func withoutEnded(all []CrewLink, now time.Time) []CrewLink {
	ended := 0
	for _, l := range all {
		if now.After(l.Until) {
			ended++
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(l CrewLink) bool {
		if !now.After(l.Until) || ended <= mostEnded {
			return false
		}
		ended-- // the oldest go first
		return true
	})
}

// CrewJob returns the job that a link opens.
func (s *Store) CrewJob(secret string) (Job, CrewLink, error) {
	sum, now := sumOfSecret(secret), s.now()
	s.crew.mu.Lock()
	i := slices.IndexFunc(s.crew.all, func(l CrewLink) bool { return l.Sum == sum && now.Before(l.Until) })
	var l CrewLink
	if i >= 0 {
		l = s.crew.all[i]
	}
	s.crew.mu.Unlock()
	if i < 0 {
		return Job{}, l, ErrNoLink
	}
	job, err := s.Job(l.Job)
	return job, l, err
}

// CrewLinks lists the links of a job that still open it.
func (s *Store) CrewLinks(id string) []CrewLink {
	now := s.now()
	s.crew.mu.Lock()
	defer s.crew.mu.Unlock()
	var out []CrewLink
	for _, l := range s.crew.all {
		if l.Job == id && now.Before(l.Until) {
			out = append(out, l)
		}
	}
	return out
}

// EndCrewLink ends a link of a job before its day.
func (s *Store) EndCrewLink(id, sum string) error {
	c := s.crew
	c.mu.Lock()
	defer c.mu.Unlock()
	next := slices.DeleteFunc(slices.Clone(c.all), func(l CrewLink) bool { return l.Job == id && l.Sum == sum })
	if len(next) == len(c.all) {
		return ErrNoLink
	}
	if err := disk.WriteJSON(c.path, next); err != nil {
		return fmt.Errorf("the link cannot be ended: %w", err)
	}
	c.all = next
	return nil
}

func sumOfSecret(secret string) string {
	h := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(h[:])
}
