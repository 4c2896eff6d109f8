package jobs

import (
	"slices"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// DaysOf says which days a search means, and OrderOf by which the jobs are
// listed.
type DaysOf string

// The days of a job.
const (
	DayOfLocate DaysOf = ""       // as it was said, else of the readings, else of the upload
	DayOfTrace  DaysOf = "trace"  // of the readings, else of the locate as it was said
	DayOfUpload DaysOf = "upload" // when the files were handed in
)

// Query asks for jobs; empty fields ask for nothing.
type Query struct {
	Text     string // words of ticket, area, name, locator, files or lines, or a place as "lat, lon"
	Ticket   string // part of the ticket
	Line     string // part of a line's name
	Utility  string
	From, To string // days, YYYY-MM-DD
	Days     DaysOf
	Box      *whereabouts.Box
	Sees     func(*Job) bool // nil: everything
	ByTrace  bool            // the latest trace first, else the newest upload
	Skip     int
	Most     int
}

// Search returns the jobs that match, the newest first, and how many there are.
func (s *Store) Search(q Query) ([]Job, int) {
	var found []Job
	total := 0
	s.index.walk(q, func(_ *indexed, j *Job) {
		if total++; total > q.Skip && (q.Most <= 0 || len(found) < q.Most) {
			found = append(found, *j)
		}
	})
	return found, total
}

// walk calls tell with every job that matches, in the order that is asked for.
func (x *index) walk(q Query, tell func(*indexed, *Job)) {
	if at := whereabouts.BoxAt(q.Text); at != nil {
		q.Box, q.Text = at, ""
	}
	q.Ticket, q.Line = strings.ToLower(strings.TrimSpace(q.Ticket)), strings.ToLower(strings.TrimSpace(q.Line))
	words := strings.Fields(strings.ToLower(q.Text))
	x.mu.RLock()
	defer x.mu.RUnlock()
	list := x.newest
	if q.ByTrace {
		list = x.traced
	}
	if slots, all := x.holding(append(strings.Fields(q.Ticket+" "+q.Line), words...)); !all {
		list = x.inOrder(slots, q.ByTrace)
	}
	for _, d := range list {
		if !q.matches(d, words) {
			continue
		}
		if j := d.entry.job.Load(); j != nil && (q.Sees == nil || q.Sees(j)) {
			tell(d, j)
		}
	}
}

// inOrder are the records in some slots as they are listed.
func (x *index) inOrder(slots []int, byTraceDay bool) []*indexed {
	out := make([]*indexed, 0, len(slots))
	for _, slot := range slots {
		if d := x.slots[slot]; d != nil {
			out = append(out, d)
		}
	}
	order := byUpload
	if byTraceDay {
		order = byTrace
	}
	slices.SortFunc(out, order)
	return out
}

func (q *Query) matches(d *indexed, words []string) bool {
	if !strings.Contains(d.ticket, q.Ticket) || !strings.Contains(d.lines, q.Line) || q.Utility != "" && !slices.Contains(d.utilities, q.Utility) {
		return false
	}
	if q.From != "" || q.To != "" {
		first, last := d.day, d.day
		switch q.Days {
		case DayOfTrace:
			first, last = d.first, d.last
		case DayOfUpload:
			first, last = d.uploaded, d.uploaded
		}
		if first == "" || q.From != "" && last < q.From || q.To != "" && first > q.To {
			return false
		}
	}
	if q.Box != nil && (d.box == nil || !q.Box.Meets(*d.box)) {
		return false
	}
	for _, word := range words {
		if !strings.Contains(d.text, word) {
			return false
		}
	}
	return true
}

// Day is the day of the locate as it was said, else the first day of the
// readings, else the day on which the job was handed in.
func (j *Job) Day() string {
	first, _ := j.TraceDays()
	return firstOf(j.Settings.Date, first, j.Created.Format(time.DateOnly))
}
