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

// ReasonCount is how many readings share a reason, and which.
type ReasonCount struct {
	Why  string
	N    int
	Rows []RowOf // N of them, in the order of the files
}

// RowOf is a row of a table: the table's index into the job's inputs, and the line on
// which the row starts.
type RowOf struct{ File, Row int32 }

// Reasons counts why readings were set aside or lost their depth, the most
// frequent reason first.
func (s *Sheet) Reasons() []ReasonCount {
	rows := map[string][]RowOf{}
	for _, l := range s.Lines {
		for i := range l.Readings {
			switch r := &l.Readings[i]; {
			case r.Status == StatusSetAside:
				rows[r.Why()] = append(rows[r.Why()], RowOf{r.File, r.Row})
			case r.DepthDropped && r.Status != StatusCheck:
				why := "depth left out, position used: " + r.Why()
				rows[why] = append(rows[why], RowOf{r.File, r.Row})
			}
		}
	}
	out := make([]ReasonCount, 0, len(rows))
	for why, at := range rows {
		slices.SortFunc(at, func(a, b RowOf) int {
			return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
		})
		out = append(out, ReasonCount{why, len(at), at})
	}
	slices.SortFunc(out, func(a, b ReasonCount) int {
		return cmp.Or(b.N-a.N, cmp.Compare(a.Why, b.Why))
	})
	return out
}
