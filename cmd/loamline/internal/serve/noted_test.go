package serve

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/audit"
	"loamline.example/cmd/loamline/internal/serve/door"
)

// logged reads the audit log.
func logged(t *testing.T, dir string) (lines []audit.Line) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "audit.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range bytes.Split(bytes.TrimSpace(text), []byte("\n")) {
		var l audit.Line
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
		"too many passwords": {"POST", "/sign-in", http.StatusTooManyRequests, door.TriesOfOne + 1},
	} {
		t.Run(name, func(t *testing.T) {
			s := newSite(t, func(o *Options) { o.Token = "0123456789abcdefghij" })
			now := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
			s.srv.audit.Now = func() time.Time { return now }
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
			now = now.Add(time.Minute)
			ask(50) // the first of them ends the minute
			lines = logged(t, s.dir)
			if len(lines) != tt.first+1 || lines[tt.first].Times != 300-tt.first {
				t.Fatalf("%d lines, %+v", len(lines), lines[len(lines)-1])
			}
			if err := s.srv.audit.Flush(); err != nil {
				t.Fatal(err)
			}
			lines = logged(t, s.dir)
			if n := len(lines); n != tt.first+2 || lines[n-1].Times != 50 {
				t.Errorf("%d lines, %+v", n, lines[n-1])
			}
		})
	}
}
