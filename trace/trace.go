package trace

import "sort"

// Trace is one line's readings. They stand in input order until the fit has
// given them stations; travel order is rising time where all have one, else
// the order of the files.
type Trace struct {
	Name     string
	Readings []Reading
}

// traces splits readings by line, in the order in which lines first appear,
// without copying where each line's rows already stand together.
func traces(rs []Reading) []Trace {
	order := map[string]int{}
	together := true
	for i := range rs {
		if _, seen := order[rs[i].Line]; !seen {
			order[rs[i].Line] = len(order)
		} else if rs[i].Line != rs[i-1].Line {
			together = false
		}
	}
	if !together {
		sort.SliceStable(rs, func(a, b int) bool { return order[rs[a].Line] < order[rs[b].Line] })
	}
	out := make([]Trace, 0, len(order))
	for i := 0; i < len(rs); {
		j := i
		for j < len(rs) && rs[j].Line == rs[i].Line {
			j++
		}
		out = append(out, Trace{rs[i].Line, rs[i:j:j]})
		i = j
	}
	return out
}

// setUp fills in from the job what a line's readings do not say themselves.
func (t Trace) setUp(s LineSetup) {
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.Hookup == "" {
			r.Hookup = s.Hookup
		}
		if !Known(r.FreqHz) {
			r.FreqHz = s.FreqHz
		}
	}
}
