package jobs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Query asks for jobs; empty fields ask for nothing.
type Query struct {
	Text     string // words of ticket, area, name, locator, files or lines, or a place as "lat, lon"
	Ticket   string // part of the ticket
	From, To string // days of the locate, YYYY-MM-DD
	Box      *Box
	Sees     func(*Job) bool // nil: everything
	Skip     int
	Most     int
}

// nearDeg widens a job's box when a single place is asked for: about 100 m.
const nearDeg = 0.001

// Search returns the jobs that match, the newest first, and how many there are.
func (s *Store) Search(q Query) ([]Job, int) {
	var found []Job
	s.mu.RLock()
	all := make([]*entry, 0, len(s.jobs))
	for _, e := range s.jobs {
		all = append(all, e)
	}
	s.mu.RUnlock()
	if at := placeOf(q.Text); at != nil {
		q.Box, q.Text = at, ""
	}
	for _, e := range all {
		if job := e.job.Load(); job != nil && q.matches(job) {
			found = append(found, *job)
		}
	}
	slices.SortFunc(found, func(a, b Job) int {
		if c := b.Created.Compare(a.Created); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
	total := len(found)
	found = found[min(max(0, q.Skip), total):]
	if q.Most > 0 && len(found) > q.Most {
		found = found[:q.Most]
	}
	return found, total
}

func (q Query) matches(j *Job) bool {
	s := j.Settings
	if q.Sees != nil && !q.Sees(j) {
		return false
	}
	if q.Ticket != "" && !containsFold(s.Ticket, q.Ticket) {
		return false
	}
	if day := j.Day(); q.From != "" && day < q.From || q.To != "" && day > q.To {
		return false
	}
	if q.Box != nil {
		r := j.LatestDone()
		if r == nil || r.Summary == nil || r.Summary.Box == nil || !q.Box.meets(*r.Summary.Box) {
			return false
		}
	}
	text := strings.ToLower(strings.Join(append([]string{s.Ticket, s.Area, s.Locator, j.Name, s.Date}, j.LineNames...), "\n"))
	for _, f := range j.Files {
		text += "\n" + strings.ToLower(f.Name)
	}
	for _, word := range strings.Fields(strings.ToLower(q.Text)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

// Day is the day of the locate, else the day on which the job was handed in.
func (j *Job) Day() string {
	if j.Settings.Date != "" {
		return j.Settings.Date
	}
	return j.Created.Format("2006-01-02")
}

func (b Box) meets(o Box) bool {
	return b.West <= o.East && o.West <= b.East && b.South <= o.North && o.South <= b.North
}

// placeOf reads "lat, lon" in degrees, nil where it is none.
func placeOf(text string) *Box {
	lat, lon, ok := strings.Cut(text, ",")
	la, err1 := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	lo, err2 := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	if !ok || err1 != nil || err2 != nil || !(la >= -90 && la <= 90 && lo >= -180 && lo <= 180) {
		return nil
	}
	return &Box{West: lo - nearDeg, South: la - nearDeg, East: lo + nearDeg, North: la + nearDeg}
}

// ParseBox reads "west,south,east,north" in degrees.
func ParseBox(text string) (*Box, error) {
	parts := strings.Split(text, ",")
	var v [4]float64
	bad := len(parts) != 4
	for i := 0; i < 4 && !bad; i++ {
		var err error
		v[i], err = strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		bad = err != nil
	}
	if bad || !(v[0] <= v[2] && v[1] <= v[3]) {
		return nil, fmt.Errorf("%q is no box: write west,south,east,north in degrees", text)
	}
	return &Box{v[0], v[1], v[2], v[3]}, nil
}

func containsFold(s, part string) bool {
	return strings.Contains(strings.ToLower(s), strings.ToLower(strings.TrimSpace(part)))
}
