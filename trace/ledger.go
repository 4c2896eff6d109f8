package trace

import (
	"cmp"
	"slices"
)

// Counts is the ledger: Used, SetAside, Check, Exposed and Unreadable add up
// to Rows.
type Counts struct {
	Rows, Used, SetAside, Check, Exposed, Unreadable int
}

// Balanced reports whether every row is accounted for.
func (c Counts) Balanced() bool {
	return c.Rows == c.Used+c.SetAside+c.Check+c.Exposed+c.Unreadable
}

// CountReadings counts the fates of readings.
func CountReadings(rs []Reading) Counts {
	c := Counts{Rows: len(rs)}
	for i := range rs {
		switch rs[i].Status {
		case StatusUsed:
			c.Used++
		case StatusSetAside:
			c.SetAside++
		case StatusCheck:
			c.Check++
		case StatusExposed:
			c.Exposed++
		}
	}
	return c
}

// ReasonCount is how many readings share a reason.
type ReasonCount struct {
	Why string
	N   int
}

// Reasons counts why readings were set aside or lost their depth, the most
// frequent reason first.
func (s *Sheet) Reasons() []ReasonCount {
	counts := map[string]int{}
	for _, l := range s.Lines {
		for i := range l.Readings {
			switch r := &l.Readings[i]; {
			case r.Status == StatusSetAside:
				counts[r.Why()]++
			case r.DepthDropped && r.Status != StatusCheck:
				counts["depth left out, position used: "+r.Why()]++
			}
		}
	}
	out := make([]ReasonCount, 0, len(counts))
	for why, n := range counts {
		out = append(out, ReasonCount{why, n})
	}
	slices.SortFunc(out, func(a, b ReasonCount) int {
		return cmp.Or(b.N-a.N, cmp.Compare(a.Why, b.Why))
	})
	return out
}
