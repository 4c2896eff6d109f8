package jobs

import (
	"errors"
	"slices"
	"testing"
	"time"
)

// A clock that jumps years ahead and back loses nothing and makes nothing twice:
// jobs, the numbers of runs, states of revision and links for crews do not hang
// on it.
func TestClockJumps(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	now := time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC)
	s.now = func() time.Time { return now }
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	var ids []string
	links := map[string]string{}
	for _, jump := range []time.Duration{0, 10 * 365 * 24 * time.Hour, -20 * 365 * 24 * time.Hour, 10 * 365 * 24 * time.Hour, -time.Second} {
		now = now.Add(jump)
		job := handIn(t, s, "T-1")
		if slices.Contains(ids, job.ID) {
			t.Fatal("an id is given twice")
		}
		ids = append(ids, job.ID)
		link, err := s.MakeCrewLink(job.ID, "", 14)
		if err != nil {
			t.Fatal(err)
		}
		links[job.ID] = link
		for want := 1; want <= 2; want++ {
			seen, _ := s.Job(job.ID)
			asked, err := m.Ask(t.Context(), job.ID, seen.Revision, seen.Settings)
			if err != nil || asked.Latest().Number != want {
				t.Fatalf("run %d: %v", want, err)
			}
			if r := waitDone(t, s, job.ID); r.State != StateDone {
				t.Fatalf("%+v", r.Problem)
			}
			now = now.Add(-time.Hour) // while people work
		}
	}
	m.Close()
	if _, _, err := s.CrewJob(links[ids[1]]); err != nil {
		t.Errorf("a link made while the clock was ahead: %v", err)
	}
	s.Close()
	s = openTestStore(t, dir)
	found, total := s.Search(Query{})
	if total != len(ids) || !slices.IsSortedFunc(found, func(a, b Job) int { return b.Created.Compare(a.Created) }) {
		t.Errorf("%d jobs of %d, or out of order", total, len(ids))
	}
	for _, id := range ids {
		job, err := s.Job(id)
		if err != nil || len(job.Runs) != 2 || job.LatestDone() == nil || job.LatestDone().Number != 2 {
			t.Errorf("%s: %v, %d runs", id, err, len(job.Runs))
		}
	}
	s.now = func() time.Time { return time.Date(2026, 5, 13, 0, 0, 0, 0, time.UTC) }
	if _, _, err := s.CrewJob(links[ids[0]]); err != nil {
		t.Errorf("a link that has not ended was lost while the clock was ahead: %v", err)
	}
	s.now = func() time.Time { return time.Date(2066, 1, 1, 0, 0, 0, 0, time.UTC) }
	if _, _, err := s.CrewJob(links[ids[0]]); !errors.Is(err, ErrNoLink) {
		t.Errorf("a link that has ended opens: %v", err)
	}
}
