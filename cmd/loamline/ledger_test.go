package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/trace/tracetest/study"
)

// ledger is the counts that a map states.
type ledger struct {
	Loamline struct {
		Counts struct {
			Rows, Used, Check, Exposed, Unreadable int
			SetAside                               int `json:"set_aside"`
		} `json:"counts"`
	} `json:"loamline"`
	Features []struct {
		Properties struct{ Role, Status string }
	} `json:"features"`
}

// mapped runs the main job over one table and returns the map's ledger; false
// where the job could not be done.
func mapped(t *testing.T, table []byte) (ledger, bool) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "day.csv")
	if err := os.WriteFile(path, table, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := run(context.Background(), []string{"loamline", "map", path, "--out", dir}, streams{in: strings.NewReader(""), out: &out, err: &errs})
	if status != statusOK {
		if errs.Len() == 0 || status != statusFailed {
			t.Errorf("status %d, error %q", status, errs.String())
		}
		if _, err := os.Stat(filepath.Join(dir, "day.geojson")); err == nil {
			t.Error("a failed run left a map")
		}
		return ledger{}, false
	}
	text, err := os.ReadFile(filepath.Join(dir, "day.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	var l ledger
	if err := json.Unmarshal(text, &l); err != nil {
		t.Fatal(err)
	}
	return l, true
}

// check adds the ledger up, and holds it against the features of the map.
func (l ledger) check(t *testing.T) {
	t.Helper()
	c := l.Loamline.Counts
	if c.Rows != c.Used+c.SetAside+c.Check+c.Exposed+c.Unreadable {
		t.Errorf("the ledger does not add up: %+v", c)
	}
	byStatus := map[string]int{}
	for _, f := range l.Features {
		if f.Properties.Role == "reading" {
			byStatus[f.Properties.Status]++
		}
	}
	if byStatus["used"] != c.Used || byStatus["set_aside"] != c.SetAside || byStatus["check"] != c.Check || byStatus["exposed"] != c.Exposed {
		t.Errorf("the map has %v, its ledger %+v", byStatus, c)
	}
}

// everyThird thins a table out to a third of its rows, and those that were exposed.
func everyThird(table []byte) []byte {
	lines := strings.SplitAfter(string(table), "\n")
	out := strings.Join(lines[:2], "") // a comment and the header
	for i, l := range lines[2:] {
		if f := strings.Split(l, ","); i%3 == 1 || len(f) > 18 && f[18] != "" {
			out += l
		}
	}
	return []byte(out)
}

// TestLedgerOfDamagedFiles damages a part of the example's table, whose every fate
// it has, in the ways that files get damaged and adds up what became of its rows.
func TestLedgerOfDamagedFiles(t *testing.T) {
	whole, err := os.ReadFile("../../examples/lantern-row/lantern-row.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows := bytes.Count(whole, []byte("\n")) - 2 // a comment and the header
	l, ok := mapped(t, whole)
	if !ok || l.Loamline.Counts.Rows != rows {
		t.Fatalf("%d rows in the file, ledger %+v", rows, l.Loamline.Counts)
	}
	l.check(t)
	whole = everyThird(whole)

	r := rand.New(rand.NewPCG(1, 2))
	for i := range study.Of(6, 12) {
		t.Run(fmt.Sprintf("cut %d", i), func(t *testing.T) {
			cut := whole[:200+r.IntN(len(whole)-200)]
			if l, ok := mapped(t, cut); ok {
				l.check(t)
			}
		})
		t.Run(fmt.Sprintf("bytes %d", i), func(t *testing.T) {
			bad := bytes.Clone(whole)
			for range 1 + r.IntN(60) {
				bad[300+r.IntN(len(bad)-300)] = "\",;\n\t#x9-."[r.IntN(10)]
			}
			if l, ok := mapped(t, bad); ok {
				l.check(t)
			}
		})
		t.Run(fmt.Sprintf("rows %d", i), func(t *testing.T) {
			lines := strings.SplitAfter(string(whole), "\n")
			head, body := lines[:2], lines[2:len(lines)-1]
			r.Shuffle(len(body), func(a, b int) { body[a], body[b] = body[b], body[a] })
			kept := body[:r.IntN(len(body))]
			l, ok := mapped(t, []byte(strings.Join(head, "")+strings.Join(kept, "")))
			if ok {
				l.check(t)
				if l.Loamline.Counts.Rows != len(kept) {
					t.Errorf("%d rows in the file, %d in the ledger", len(kept), l.Loamline.Counts.Rows)
				}
			}
		})
	}
}
