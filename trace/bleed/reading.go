package bleed

import (
	"math"
	"sort"

	"loamline.example/trace"
	"loamline.example/trace/setups"
	"loamline.example/trace/walkorder"
)

// reading is a trace.Reading as the detector goes by it: its depth is not known where it was
// dropped, and its null is to the right of the way that the stations run.
type reading struct {
	trace.Reading
	setup    setups.Setup // carried on where a row leaves it open, one for all that are the same
	index    int32        // into the caller's readings
	SetAside bool         // the position is not in the centerline: only a jump is judged by it
}

func readingOf(r *trace.Reading, index int) reading {
	q := reading{Reading: *r, index: int32(index), SetAside: r.Status == trace.StatusSetAside}
	if r.DepthDropped {
		q.DepthM = math.NaN()
	}
	return q
}

// timeS is when it was taken, in seconds on any clock; NaN where that is not known.
func (r reading) timeS() float64 {
	if r.Time.IsZero() {
		return math.NaN()
	}
	return float64(r.Time.UnixMilli()) / 1000
}

// inStationOrder are the readings that a line is judged by: those in its
// centerline, and those set aside that were measured beside it.
func inStationOrder(rs []trace.Reading) []reading {
	var order []int
	for i := range rs {
		r := &rs[i]
		switch r.Status {
		case trace.StatusCheck, trace.StatusExposed:
			continue
		case trace.StatusSetAside:
			if !trace.Known(r.StationM) || !r.Placed() || !r.Fix.Measured() {
				continue
			}
		}
		order = append(order, i)
	}
	sort.SliceStable(order, func(a, b int) bool { return rs[order[a]].StationM < rs[order[b]].StationM })
	of := setups.Alike(setups.Of(rs))
	out := make([]reading, len(order))
	for k, i := range order {
		out[k] = readingOf(&rs[i], i)
		out[k].setup = of[i]
	}
	turnNulls(out, rs)
	return out
}

// walkOf lists what a line is judged by in the order in which it was read, or along the
// line where its rows are no walk.
func walkOf(line Line) []int {
	at := make([]int, len(line.Readings))
	for i := range at {
		at[i] = -1
	}
	for k := range line.rd {
		at[line.rd[k].index] = k
	}
	order, walked := walkorder.Travel(line.Readings)
	out := make([]int, 0, len(line.rd))
	for _, i := range order {
		if at[i] >= 0 {
			out = append(out, at[i])
		}
	}
	if !walked {
		sort.Ints(out)
	}
	return out
}
