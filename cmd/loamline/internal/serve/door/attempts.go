package door

import (
	"sync"
	"time"
)

// attempts counts tries at a secret. A try counts from its beginning, so that
// many at once are no way round, and is forgiven once it was right.
type attempts struct {
	mu sync.Mutex
	by map[string][]time.Time
}

// TriesOfOne is how many tries a minute there are at one name, or at the token, from one
// address.
const TriesOfOne = 10

const (
	triesWindow  = time.Minute
	triesFromOne = 60  // from one address, whatever the name
	mostTried    = 1e5 // addresses and names that are kept apart
)

// begin counts a try, or says how long to wait.
func (a *attempts) begin(key string, most int) (wait time.Duration) {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := time.Now()
	recent := a.by[key]
	for len(recent) > 0 && now.Sub(recent[0]) > triesWindow {
		recent = recent[1:]
	}
	if len(recent) >= most {
		return triesWindow - now.Sub(recent[0])
	}
	if len(a.by) > mostTried {
		for k, v := range a.by {
			if now.Sub(v[len(v)-1]) > triesWindow {
				delete(a.by, k)
			}
		}
	}
	a.by[key] = append(recent, now)
	return 0
}

// forgive takes the last try back.
func (a *attempts) forgive(key string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if recent := a.by[key]; len(recent) > 1 {
		a.by[key] = recent[:len(recent)-1]
	} else {
		delete(a.by, key)
	}
}
