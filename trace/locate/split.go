package locate

import (
	"sort"

	"loamline.example/trace"
)

// traces splits readings by line, in the order in which lines first appear,
// without copying where each line's rows already stand together.
func traces(rs []trace.Reading) []trace.Trace {
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
	out := make([]trace.Trace, 0, len(order))
	for i := 0; i < len(rs); {
		j := i
		for j < len(rs) && rs[j].Line == rs[i].Line {
			j++
		}
		out = append(out, trace.Trace{Name: rs[i].Line, Readings: rs[i:j:j]})
		i = j
	}
	return out
}

// setUp fills in from the job what a line's readings do not say themselves.
func setUp(t trace.Trace, s trace.LineSetup) {
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.Hookup == "" {
			r.Hookup = s.Hookup
		}
		if !trace.Known(r.FreqHz) {
			r.FreqHz = s.FreqHz
		}
	}
}
