package serve

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// logged reads the audit log.
func logged(t *testing.T, dir string) (lines []auditLine) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "audit.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range bytes.Split(bytes.TrimSpace(text), []byte("\n")) {
		var l auditLine
		if len(one) > 0 {
			if err := json.Unmarshal(one, &l); err != nil {
				t.Fatal(err)
			}
			lines = append(lines, l)
		}
	}
	return lines
}

// A client that hammers at links that open nothing, or at the form after too many
// tries, fills no disk: a line a minute stands for all of it, and none goes uncounted.
func TestHammeringFillsNoDisk(t *testing.T) {
	for name, tt := range map[string]struct {
		method, path string
		status       int
		first        int // lines until the limit is reached
	}{
		"wrong crew links":   {"GET", "/crew/not-a-link/", http.StatusNotFound, 1},
		"too many passwords": {"POST", "/sign-in", http.StatusTooManyRequests, triesOfOne + 1},
	} {
		t.Run(name, func(t *testing.T) {
			s := newSite(t, func(o *Options) { o.Token = "0123456789abcdefghij" })
			now := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
			s.srv.audit.now = func() time.Time { return now }
			ask := func(n int) {
				for range n {
					r, _ := http.NewRequest(tt.method, s.url+tt.path, nil)
					resp, err := http.DefaultClient.Do(r)
					if err != nil {
						t.Fatal(err)
					}
					resp.Body.Close()
				}
			}
			ask(300)
			lines := logged(t, s.dir)
			if len(lines) != tt.first || lines[len(lines)-1].Status != tt.status {
				t.Fatalf("%d lines, the last %+v", len(lines), lines[len(lines)-1])
			}
			now = now.Add(hammerEvery)
			ask(50) // the first of them ends the minute
			lines = logged(t, s.dir)
			if len(lines) != tt.first+1 || lines[tt.first].Times != 300-tt.first {
				t.Fatalf("%d lines, %+v", len(lines), lines[len(lines)-1])
			}
			if err := s.srv.audit.flush(); err != nil {
				t.Fatal(err)
			}
			lines = logged(t, s.dir)
			if n := len(lines); n != tt.first+2 || lines[n-1].Times != 50 {
				t.Errorf("%d lines, %+v", n, lines[n-1])
			}
		})
	}
}

// Each client has its own line; past so many all others share one; and whoever is
// quiet for a minute is forgotten.
func TestHammeringOfManyClients(t *testing.T) {
	var h hammering
	now := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
	written, counted := 0, 0
	take := func(from string) {
		for _, l := range h.take(auditLine{From: from}, now) {
			written++
			counted += max(1, l.Times)
		}
	}
	for i := range 3 * mostHammering {
		take(fmt.Sprint("client ", i))
	}
	if written != mostHammering+1 || len(h.by) != mostHammering+1 {
		t.Errorf("%d lines of %d clients", written, len(h.by))
	}
	now = now.Add(hammerEvery)
	for _, l := range h.over(now) {
		counted += l.Times
	}
	if counted != 3*mostHammering {
		t.Errorf("%d of %d are accounted for", counted, 3*mostHammering)
	}
	now = now.Add(hammerEvery)
	if left := h.over(now); len(left) != 0 || len(h.by) != 0 {
		t.Errorf("%d lines, %d clients are kept", len(left), len(h.by))
	}
}

// Each client's minute is its own, although the clients are looked at only when one of
// them is due.
func TestHammeringEndsForEachInItsOwnTime(t *testing.T) {
	var h hammering
	began := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
	half := hammerEvery / 2
	for _, ask := range []struct {
		from  string
		after time.Duration
	}{{"first", 0}, {"first", 0}, {"second", half}, {"second", half}} {
		h.take(auditLine{From: ask.from}, began.Add(ask.after))
	}
	for i, want := range []string{"", "first", "second", "", ""} {
		got := ""
		for _, l := range h.over(began.Add(time.Duration(i+1) * half)) {
			got += l.From
		}
		if got != want {
			t.Errorf("after %d half minutes: %q, want %q", i+1, got, want)
		}
	}
	if len(h.by) != 0 {
		t.Errorf("%d clients are kept", len(h.by))
	}
}
