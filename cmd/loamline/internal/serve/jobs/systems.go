package jobs

import (
	"math"
	"strings"

	"loamline.example/geo"
)

// System is a coordinate reference system to choose from.
type System struct {
	ID   string `json:"id"` // as settings have it: "EPSG:2263"
	Name string `json:"name"`
	Area string `json:"area"` // where it may be used
	Unit string `json:"unit"`
}

// mostSystems is how many systems are offered at once.
const mostSystems = 30

// FindSystems finds systems by words of their name, place or number; near is
// roughly where the readings lie, nil where nobody knows. More reports whether
// there are others than those that it returns.
func FindSystems(text string, near *Place) (found []System, more bool) {
	if strings.TrimSpace(text) == "" && near == nil {
		return nil, false
	}
	at := geo.LonLat{LonDeg: math.NaN(), LatDeg: math.NaN()}
	if near != nil && !near.Grid {
		at = geo.LonLat{LonDeg: near.X, LatDeg: near.Y}
	}
	for _, c := range geo.FindCRS(text, at) {
		if len(found) == mostSystems {
			return found, true
		}
		found = append(found, System{c.ID(), c.Name, c.Area().Name, crsUnit(c.Unit)})
	}
	return found, false
}

// SystemNamed is the system that settings name, nil where there is none such.
func SystemNamed(id string) *System {
	c, err := geo.LookupCRS(id)
	if err != nil {
		return nil
	}
	return &System{c.ID(), c.Name, c.Area().Name, crsUnit(c.Unit)}
}

func crsUnit(unit string) string {
	switch unit {
	case "deg":
		return "degrees"
	case "m":
		return "metres"
	case "ft":
		return "international feet"
	case "ftUS":
		return "US survey feet"
	}
	return unit
}

// Where is roughly where the job lies: its newest map, else the readings, as far
// as they have degrees; nil where nobody knows.
func (j *Job) Where() *Place {
	if b := j.Box(); b != nil {
		return &Place{X: (b.West + b.East) / 2, Y: (b.South + b.North) / 2}
	}
	return nil
}

// Box is where the job lies in degrees: its newest map, else its readings as the
// files have them, whose frame can be off by metres; nil where nobody knows.
func (j *Job) Box() *Box {
	if r := j.LatestDone(); r != nil && r.Summary != nil && r.Summary.Box != nil {
		return r.Summary.Box
	}
	var out *Box
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
