package jobs

import (
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// Where is roughly where the job lies: its newest map, else the readings, as far
// as they have degrees; nil where nobody knows.
func (j *Job) Where() *whereabouts.Place {
	if b := j.Box(); b != nil {
		return &whereabouts.Place{X: (b.West + b.East) / 2, Y: (b.South + b.North) / 2}
	}
	return nil
}

// Box is where the job lies in degrees: its newest map, else its readings as the
// files have them, whose frame can be off by metres; nil where nobody knows.
func (j *Job) Box() *whereabouts.Box {
	if r := j.LatestDone(); r != nil && r.Summary != nil && r.Summary.Box != nil {
		return r.Summary.Box
	}
	var out *whereabouts.Box
	for _, f := range j.Files {
		if f.Table == nil || f.Table.Box == nil {
			continue
		}
		if out == nil {
			b := *f.Table.Box
			out = &b
			continue
		}
		o := f.Table.Box
		out.West, out.East = min(out.West, o.West), max(out.East, o.East)
		out.South, out.North = min(out.South, o.South), max(out.North, o.North)
	}
	return out
}

// TraceDays are the first and the last day of the readings, in the zone that
// they state; empty where they have no time.
func (j *Job) TraceDays() (first, last string) {
	for _, f := range j.Files {
		if f.Table == nil || f.Table.FirstDay == "" {
			continue
		}
		if first == "" || f.Table.FirstDay < first {
			first = f.Table.FirstDay
		}
		last = max(last, f.Table.LastDay)
	}
	return first, last
}
