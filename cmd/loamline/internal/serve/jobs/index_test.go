package jobs

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/trace/tracetest/study"
)

// madeUp is a job as searches see it, of a made-up town.
func madeUp(dice *rand.Rand, n int) *Job {
	streets := []string{"Lantern Row", "Tern Lane", "Grüner Weg", "Upper Mill Road", "Quay Street"}
	day := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC).AddDate(0, 0, dice.IntN(300))
	j := &Job{ID: fmt.Sprintf("job%05d", n), Created: day.Add(time.Duration(dice.IntN(86400)) * time.Second), Name: fmt.Sprintf("walk-%d", n), Settings: jobfile.DefaultSettings(),
		LineNames: []string{fmt.Sprintf("W-%d", dice.IntN(40))}}
	j.Settings.Ticket = fmt.Sprintf("T-%04d", dice.IntN(3000))
	j.Settings.Area = streets[dice.IntN(len(streets))]
	x, y := -30.5+dice.Float64(), 44+dice.Float64()
	trace := day.AddDate(0, 0, -dice.IntN(20)).Format(time.DateOnly)
	j.Files = []InputFile{{Kind: KindTrace, Name: "walk.csv", Table: &tables.TableView{FirstDay: trace, LastDay: trace, Box: &whereabouts.Box{West: x, South: y, East: x + 0.001, North: y + 0.001}}}}
	j.Settings = j.Settings.WithLines(j.LineNames)
	j.Settings.Lines[0].Utility = []string{"water", "gas", "unknown"}[dice.IntN(3)]
	return j
}

// slowly is Search as one would write it without an index.
func slowly(all []*Job, q Query) []string {
	var out []*Job
	for _, j := range all {
		first, _ := j.TraceDays()
		day := map[DaysOf]string{DayOfLocate: j.Day(), DayOfTrace: first, DayOfUpload: j.Created.Format(time.DateOnly)}[q.Days]
		text := strings.ToLower(strings.Join([]string{j.Settings.Ticket, j.Settings.Area, j.Name, j.Files[0].Name, j.LineNames[0]}, "\n"))
		ok := !slices.ContainsFunc(strings.Fields(strings.ToLower(q.Text)), func(w string) bool { return !strings.Contains(text, w) })
		ok = ok && strings.Contains(strings.ToLower(j.Settings.Ticket), strings.ToLower(q.Ticket)) && strings.Contains(strings.ToLower(j.LineNames[0]), strings.ToLower(q.Line))
		ok = ok && (q.Utility == "" || j.Settings.Lines[0].Utility == q.Utility) && (q.From == "" || day >= q.From) && (q.To == "" || day <= q.To)
		if ok && (q.Box == nil || q.Box.Meets(*j.Files[0].Table.Box)) {
			out = append(out, j)
		}
	}
	slices.SortFunc(out, func(a, b *Job) int {
		if q.ByTrace {
			if c := strings.Compare(b.Files[0].Table.LastDay, a.Files[0].Table.LastDay); c != 0 {
				return c
			}
		}
		return b.Created.Compare(a.Created)
	})
	ids := []string{}
	for _, j := range out {
		ids = append(ids, j.ID)
	}
	return ids
}

// The index finds what a look at every job finds, in the same order, while jobs
// come, change and go.
func TestIndexFindsTheSame(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 7))
	s := &Store{index: newIndex()}
	var all []*Job
	entries := map[string]*entry{}
	for n := range study.Of(1500, 4000) {
		switch {
		case len(all) > 400 && dice.IntN(3) == 0: // one goes
			k := dice.IntN(len(all))
			s.index.drop(all[k].ID)
			all = slices.Delete(all, k, k+1)
		case len(all) > 50 && dice.IntN(2) == 0: // one is changed
			k := dice.IntN(len(all))
			next := all[k].clone()
			next.Settings.Ticket = fmt.Sprintf("T-%04d", dice.IntN(3000))
			all[k] = next
			entries[next.ID].job.Store(next)
			s.index.put(entries[next.ID], next)
		default:
			j := madeUp(dice, n)
			entries[j.ID] = newEntry(j)
			s.index.put(entries[j.ID], j)
			all = append(all, j)
		}
		if n%40 != 0 {
			continue
		}
		for _, q := range []Query{{}, {Text: "tern"}, {Text: "t-1 row"}, {Text: "grüner"}, {Text: "w"}, {Text: "17"}, {Text: "nowhere"}, {Ticket: "t-2"}, {Line: "w-3"}, {Utility: "gas", Text: "lane"},
			{From: "2026-03-01", To: "2026-04-30"}, {From: "2026-03-01", To: "2026-03-09", Days: DayOfTrace, ByTrace: true}, {To: "2026-02-01", Days: DayOfUpload}, {Box: &whereabouts.Box{West: -30.3, South: 44.2, East: -30.1, North: 44.4}, ByTrace: true}} {
			found, total := s.Search(q)
			got := []string{}
			for _, j := range found {
				got = append(got, j.ID)
			}
			if want := slowly(all, q); !slices.Equal(got, want) || total != len(want) {
				t.Fatalf("%+v: %d jobs %v, not %d %v", q, total, got, len(want), want)
			}
		}
	}
	if len(s.index.slots) > 2*len(all)+2001 {
		t.Errorf("%d slots for %d jobs", len(s.index.slots), len(all))
	}
}

// A spread tells every job that lies in the view once, in few cells, and never
// hides one.
func TestSpreadHoldsAll(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 8))
	s := &Store{index: newIndex()}
	for n := range 3000 {
		j := madeUp(dice, n)
		if n%10 == 0 {
			j.Files[0].Table.Box = nil
		}
		s.index.put(newEntry(j), j)
	}
	spread, seen := s.Spread(Query{}, nil, 7, 7)
	sum := 0
	for _, c := range spread.Cells {
		sum += c.Count
		if c.Box.West < seen.West || c.Box.East > seen.East || c.Box.South < seen.South || c.Box.North > seen.North {
			t.Errorf("%+v is outside of %+v", c.Box, seen)
		}
	}
	if sum != 2700 || spread.Placed != 2700 || spread.Placeless != 300 || len(spread.Cells) > 49 {
		t.Errorf("%d jobs in %d cells, %d placed, %d without a place", sum, len(spread.Cells), spread.Placed, spread.Placeless)
	}
	// Closer: what a cell says of itself is what the view of it shows.
	c := spread.Cells[len(spread.Cells)/2]
	if closer, _ := s.Spread(Query{}, &c.Box, 7, 7); closer.Placed < c.Count {
		t.Errorf("closer are %d jobs of %d", closer.Placed, c.Count)
	}
}

// BenchmarkSearch is a search among ten thousand jobs.
func BenchmarkSearch(b *testing.B) {
	dice := rand.New(rand.NewPCG(3, 9))
	s := &Store{index: newIndex()}
	for n := range 10_000 {
		j := madeUp(dice, n)
		s.index.put(newEntry(j), j)
	}
	for name, q := range map[string]Query{"all": {Most: 30}, "ticket": {Text: "T-2041", Most: 30}, "street": {Text: "tern lane", Most: 30}, "place": {Box: &whereabouts.Box{West: -30.3, South: 44.2, East: -30.29, North: 44.21}, Most: 30}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s.Search(q)
			}
		})
	}
}
