package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/doubt/unheard"
	"loamline.example/trace/remark"
)

// A receiver that shows no depth where it shows one elsewhere has a reason that the map
// does not know: a signal too strong or too weak, a field that is no single line's. What
// the depths on either side say does not hold there.

// blankDepths lists, along a line, the runs of used readings that came without a depth
// and are no chance, and leaves the depth of the line open there; from one depth that
// was read to the next.
func blankDepths(t trace.Trace, c *trace.Centerline) {
	rs := byStation(t.Readings)
	blank := 0
	for _, r := range rs {
		if clean.IsBlank(r) {
			blank++
		}
	}
	for from := 0; from < len(rs); from++ {
		to := from
		for to < len(rs) && clean.IsBlank(rs[to]) {
			to++
		}
		if unheard.NoChance(to-from, blank, len(rs)) {
			leaveOpen(c, rs, from, to)
		}
		from = max(from, to)
	}
}

// leaveOpen takes the depth off the line between the readings on either side of a run.
func leaveOpen(c *trace.Centerline, rs []*trace.Reading, from, to int) {
	before, behind := math.Inf(-1), math.Inf(1)
	if from > 0 {
		before = rs[from-1].StationM
	}
	if to < len(rs) {
		behind = rs[to].StationM
	}
	open := false
	for _, p := range c.Parts {
		for k := range p.Vertices {
			if v := &p.Vertices[k]; v.StationM > before && v.StationM < behind && trace.Known(v.DepthM) {
				v.DepthM, v.Depth95M, open = trace.Unknown, trace.Unknown, true
			}
		}
	}
	if open {
		c.Notes = append(c.Notes, remark.DepthsBlank{N: to - from, FromM: rs[from].StationM, ToM: rs[to-1].StationM})
	}
}
