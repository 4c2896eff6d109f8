package serve

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"log/slog"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/trace"
)

// ledgerOfPromises is what the server acknowledged, for as long as that holds.
type ledgerOfPromises struct {
	mu      sync.Mutex
	inputs  map[string]string            // job to the sum of its table, as handed in
	runs    map[string]map[int]string    // job to acknowledged runs and their ticket
	maps    map[string]map[string]string // job and run to the sum of a map that was taken away
	doomed  map[string]bool              // a deletion was asked for, and perhaps not acknowledged
	deleted map[string]bool
	counts  map[string]int
}

func (p *ledgerOfPromises) note(what string, f func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.counts[what]++
	f()
}

// pick is a job that was acknowledged and not asked to go.
func (p *ledgerOfPromises) pick(dice *rand.Rand) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var all []string
	for id := range p.inputs {
		if !p.doomed[id] {
			all = append(all, id)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return all[dice.IntN(len(all))]
}

func sumOf(text string) string {
	h := sha256.Sum256([]byte(text))
	return hex.EncodeToString(h[:])
}

// check opens the folder as the next start does and holds it against what was
// acknowledged.
func (p *ledgerOfPromises) check(t *testing.T, dir string, kill int) {
	t.Helper()
	store, err := jobs.OpenStore(dir, "test", jobs.DefaultLimits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatalf("after kill %d: %v", kill, err)
	}
	defer store.Close()
	troubles, err := store.Check(t.Context())
	if err != nil || len(troubles) > 0 {
		t.Errorf("after kill %d: %v %+v", kill, err, troubles)
	}
	if left, _ := os.ReadDir(dir + "/tmp"); len(left) > 0 {
		t.Errorf("after kill %d: left behind: %v", kill, left)
	}
	for id, sum := range p.inputs {
		job, err := store.Job(id)
		switch {
		case p.deleted[id]:
			if err == nil {
				t.Errorf("after kill %d: job %s was deleted and is there", kill, id)
			}
			continue
		case p.doomed[id] && err != nil:
			continue // it went, and nobody was told
		case err != nil:
			t.Errorf("after kill %d: job %s was acknowledged and is lost: %v", kill, id, err)
			continue
		}
		if job.Files[0].SHA256 != sum {
			t.Errorf("after kill %d: job %s has another table", kill, id)
		}
		for n, ticket := range p.runs[id] {
			if r := job.Run(n); r == nil || r.Settings.Ticket != ticket {
				t.Errorf("after kill %d: run %d of job %s was acknowledged and is %+v", kill, n, id, r)
			} else if r.State == jobs.StateFailed && !strings.Contains(r.Problem.Cause, "stopped three times") {
				t.Errorf("after kill %d: run %d of job %s failed: %s", kill, n, id, r.Problem.Words())
			}
		}
		for key, want := range p.maps[id] {
			_, f, err := store.Output(t.Context(), id, 1, key)
			if err != nil {
				t.Errorf("after kill %d: %s of job %s was taken away and is lost: %v", kill, key, id, err)
				continue
			}
			text, err := io.ReadAll(f)
			f.Close()
			if err != nil || sumOf(string(text)) != want {
				t.Errorf("after kill %d: %s of job %s is another one: %v", kill, key, id, err)
			}
		}
	}
}
