package jobs

import (
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// index is what searches look at instead of the jobs: for each job a small
// record, the records in the two orders in which they are listed, and for each
// one to three letters that occur together the records that hold them. It is
// made when the store is opened and follows every change of a job.
type index struct {
	mu      sync.RWMutex
	by      map[string]*indexed
	newest  []*indexed       // by the upload
	traced  []*indexed       // by the day of the trace
	grams   map[string][]int // letters to slots, ascending
	slots   []*indexed       // nil where a job is gone or was changed
	retired int              // slots that are nil
}

// indexed is a job as searches see it.
type indexed struct {
	id        string
	slot      int
	entry     *entry
	created   time.Time
	uploaded  string // day
	day       string // that the job goes by
	first     string // day of the readings, else of the locate as it was said
	last      string
	text      string // everything that words are looked for in, in lower case
	ticket    string
	lines     string
	utilities []string
	box       *whereabouts.Box
}

func newIndex() *index { return &index{by: map[string]*indexed{}, grams: map[string][]int{}} }

func indexedOf(e *entry, j *Job) *indexed {
	d := &indexed{id: j.ID, entry: e, created: j.Created, uploaded: j.Created.Format(time.DateOnly), day: j.Day(), ticket: strings.ToLower(j.Settings.Ticket), box: j.Box()}
	if d.first, d.last = j.TraceDays(); d.first == "" {
		d.first, d.last = j.Settings.Date, j.Settings.Date
	}
	names := slices.Clone(j.LineNames)
	said := map[string]bool{}
	for _, l := range j.Settings.Lines {
		names = append(names, l.Name)
		said[l.Name] = true
		if u := firstOf(l.Utility, "unknown"); !slices.Contains(d.utilities, u) {
			d.utilities = append(d.utilities, u)
		}
	}
	for _, n := range j.LineNames {
		if !said[n] && !slices.Contains(d.utilities, "unknown") {
			d.utilities = append(d.utilities, "unknown")
		}
	}
	d.lines = strings.ToLower(strings.Join(names, "\n"))
	s := j.Settings
	text := []string{s.JobID, s.Area, s.Locator, j.Name, s.Date}
	for _, f := range j.Files {
		text = append(text, f.Name)
	}
	d.text = d.ticket + "\n" + strings.ToLower(strings.Join(text, "\n")) + "\n" + d.lines
	return d
}

func firstOf(all ...string) string {
	for _, s := range all {
		if s != "" {
			return s
		}
	}
	return ""
}

// put takes a job in as it is now.
func (x *index) put(e *entry, j *Job) {
	d := indexedOf(e, j)
	x.mu.Lock()
	defer x.mu.Unlock()
	old := x.by[j.ID]
	if old != nil && old.text == d.text {
		d.slot = old.slot
		x.slots[d.slot] = d
	} else {
		if old != nil {
			x.retire(old.slot)
		}
		d.slot = len(x.slots)
		x.slots = append(x.slots, d)
		for g := range gramsOf(d.text) {
			x.grams[g] = append(x.grams[g], d.slot)
		}
	}
	if old != nil {
		x.newest, x.traced = leave(x.newest, old, byUpload), leave(x.traced, old, byTrace)
	}
	x.by[j.ID] = d
	x.newest, x.traced = enter(x.newest, d, byUpload), enter(x.traced, d, byTrace)
	x.tidy()
}

// drop forgets a job.
func (x *index) drop(id string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	old := x.by[id]
	if old == nil {
		return
	}
	delete(x.by, id)
	x.retire(old.slot)
	x.newest, x.traced = leave(x.newest, old, byUpload), leave(x.traced, old, byTrace)
	x.tidy()
}

func (x *index) retire(slot int) {
	x.slots[slot] = nil
	x.retired++
}

// tidy numbers the slots anew once most of them are empty.
func (x *index) tidy() {
	if x.retired < 1000 || x.retired < len(x.slots)/2 {
		return
	}
	old := x.slots
	x.slots, x.retired, x.grams = nil, 0, map[string][]int{}
	for _, d := range old {
		if d == nil {
			continue
		}
		d.slot = len(x.slots)
		x.slots = append(x.slots, d)
		for g := range gramsOf(d.text) {
			x.grams[g] = append(x.grams[g], d.slot)
		}
	}
}

// holding are the slots whose text may hold all of the words: those whose text
// has every three letters that follow each other in a word. All is true where
// the words say nothing.
func (x *index) holding(words []string) (slots []int, all bool) {
	var lists [][]int
	for _, w := range words {
		for g := range wholeGrams(w) {
			lists = append(lists, x.grams[g])
		}
	}
	if len(lists) == 0 {
		return nil, true
	}
	slices.SortFunc(lists, func(a, b []int) int { return len(a) - len(b) })
	slots = slices.Clone(lists[0])
	for _, l := range lists[1:] {
		slots = slices.DeleteFunc(slots, func(s int) bool {
			_, found := slices.BinarySearch(l, s)
			return !found
		})
	}
	return slots, false
}

// byUpload puts the newest upload first.
func byUpload(a, b *indexed) int {
	if c := b.created.Compare(a.created); c != 0 {
		return c
	}
	return strings.Compare(a.id, b.id)
}

// byTrace puts the latest trace first, and jobs of no known day last.
func byTrace(a, b *indexed) int {
	if c := strings.Compare(b.last, a.last); c != 0 {
		return c
	}
	return byUpload(a, b)
}

func enter(list []*indexed, d *indexed, order func(a, b *indexed) int) []*indexed {
	i, _ := slices.BinarySearchFunc(list, d, order)
	return slices.Insert(list, i, d)
}

func leave(list []*indexed, d *indexed, order func(a, b *indexed) int) []*indexed {
	if i, found := slices.BinarySearchFunc(list, d, order); found {
		return slices.Delete(list, i, i+1)
	}
	return list
}

// gramsOf are the parts of a text that are one to three letters long.
func gramsOf(text string) map[string]bool {
	out := map[string]bool{}
	for _, line := range strings.Split(text, "\n") {
		for _, n := range []int{1, 2, 3} {
			addGrams(out, line, n)
		}
	}
	return out
}

// wholeGrams are those parts by which a word is looked up: the longest ones.
func wholeGrams(word string) map[string]bool {
	out := map[string]bool{}
	addGrams(out, word, min(3, utf8.RuneCountInString(word)))
	return out
}

func addGrams(to map[string]bool, text string, n int) {
	letters := []rune(text)
	for i := 0; i+n <= len(letters) && n > 0; i++ {
		to[string(letters[i:i+n])] = true
	}
}
