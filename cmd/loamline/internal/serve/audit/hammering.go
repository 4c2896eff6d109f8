package audit

import (
	"cmp"
	"slices"
	"sync"
	"time"
)

// hammering keeps the lines of whoever asks in vain again and again to one a minute:
// tries that come too often, and links that open nothing. The first is noted at once,
// those that follow are counted, and their number is noted with the next, or when the
// minute is over and anything is noted.
type hammering struct {
	mu   sync.Mutex
	by   map[string]*hammered
	next time.Time // before it no client's minute is over
}

// hammered is what a client asked in vain since its last line.
type hammered struct {
	last  time.Time // of the last line
	count int       // since then
	line  Line      // the last that was counted
}

const (
	hammerEvery = time.Minute
	// mostHammering is how many clients are kept apart; the rest is one, so that
	// no number of addresses fills memory or disk.
	mostHammering = 10000
	manyClients   = "many addresses"
)

// take counts a line of a request in vain, and returns the lines to write now.
func (h *hammering) take(l Line, now time.Time) []Line {
	h.mu.Lock()
	defer h.mu.Unlock()
	out := h.due(now)
	if h.by == nil {
		h.by = map[string]*hammered{}
	}
	key := l.From
	if h.by[key] == nil && len(h.by) >= mostHammering {
		key, l.From = manyClients, manyClients
	}
	if c := h.by[key]; c != nil {
		c.count, c.line = c.count+1, l
		return out
	}
	if end := now.Add(hammerEvery); len(h.by) == 0 || end.Before(h.next) {
		h.next = end
	}
	h.by[key] = &hammered{last: now}
	return append(out, l)
}

// over returns the lines of clients whose minute is over.
func (h *hammering) over(now time.Time) []Line {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.due(now)
}

// due takes out the lines of those whose minute is over. Whoever asked nothing in it
// is forgotten. It looks at the clients only when one of them is due: not at all of
// them for each request of somebody who hammers.
func (h *hammering) due(now time.Time) []Line {
	if now.Before(h.next) {
		return nil
	}
	var out []Line
	h.next = now.Add(hammerEvery)
	for key, c := range h.by {
		if end := c.last.Add(hammerEvery); now.Before(end) {
			if end.Before(h.next) {
				h.next = end
			}
			continue
		}
		if c.count == 0 {
			delete(h.by, key)
			continue
		}
		c.line.Times = c.count
		out = append(out, c.line)
		c.last, c.count = now, 0
	}
	slices.SortFunc(out, func(a, b Line) int { return cmp.Or(cmp.Compare(a.When, b.When), cmp.Compare(a.From, b.From)) })
	return out
}
