package audit

import (
	"fmt"
	"testing"
	"time"
)

// Each client has its own line; past so many all others share one; and whoever is
// quiet for a minute is forgotten.
func TestHammeringOfManyClients(t *testing.T) {
	var h hammering
	now := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
	written, counted := 0, 0
	take := func(from string) {
		for _, l := range h.take(Line{From: from}, now) {
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
		h.take(Line{From: ask.from}, began.Add(ask.after))
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
