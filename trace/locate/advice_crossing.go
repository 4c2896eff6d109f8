package locate

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/records"
	"loamline.example/trace/remark"
)

// watchedCrossings pairs the crossings of a line with known lines with what is to
// be watched there for the same known line: that is one place to look at, and one
// item. Both go by their numbers among the findings; each stretch is told once. A
// stretch that is more than watched is told by itself, and so is one with which another
// line's or a jump is told: an item on a crossing has no word for them.
func watchedCrossings(l trace.Line, items map[int]bleedItem) (watched map[int]finding.BleedOver, covered map[int]bool) {
	watched, covered = map[int]finding.BleedOver{}, map[int]bool{}
	for n, f := range l.Findings {
		b, ok := f.(finding.BleedOver)
		if !ok || b.Grade != trace.GradeWatch || b.Jump {
			continue
		}
		if it, leads := items[n]; leads && it.tellsMoreThan(b.Neighbor) {
			continue
		}
		for k, f := range l.Findings {
			c, ok := f.(finding.Crossing)
			if _, taken := watched[k]; ok && !taken && c.OnRecord() && c.Other == b.Neighbor && c.StationM >= b.FromM-records.NearM && c.StationM <= b.ToM+records.NearM {
				watched[k], covered[n] = b, true
				break
			}
		}
	}
	return watched, covered
}

// tellsMoreThan reports whether an item tells of more than one line's signal.
func (i bleedItem) tellsMoreThan(neighbor string) bool {
	return len(i.blocks) > 0 || slices.ContainsFunc(i.also, func(n string) bool { return n != neighbor }) ||
		slices.ContainsFunc(i.all, func(b finding.BleedOver) bool { return b.Jump || b.Neighbor != neighbor })
}

// adviseWatched is the one item for both.
func adviseWatched(f finding.Crossing, b finding.BleedOver, l trace.Line) trace.Advice {
	return trace.Advice{Line: f.Line, AtM: f.StationM, FromM: min(b.FromM, f.StationM), ToM: max(b.ToM, f.StationM), Kind: trace.AdviseCrossing,
		Remark: remark.WatchedCrossing{Line: l.Setup.Name, Crossing: f, Watched: b, Reach: bleedItem{lead: b, all: []finding.BleedOver{b}}.reach(l)}}
}
