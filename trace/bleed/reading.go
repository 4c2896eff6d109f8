package bleed

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setups"
	"loamline.example/trace/walkorder"
)

// reading is what the detector needs of one trace.Reading. Numbers that the
// instrument did not give are NaN.
type reading struct {
	Pos         geo.XY
	StationM    float64
	OffsetM     float64 // of the reading from the centerline, positive to the right
	TimeS       float64
	HAccM       float64
	HDOP        float64
	DepthM      float64 // NaN also where the reading's depth was dropped
	CurrentMA   float64
	Signal      float64
	SignalLow   float64
	SignalHigh  float64
	NullOffsetM float64
	FreqHz      float64
	Hookup      trace.Hookup
	setup       setups.Setup // carried on where a row leaves it open, one for all that are the same
	index       int32        // into the caller's readings
	Fix         trace.Fix
	Phase       trace.Phase
	SetAside    bool // the position is not in the centerline: only a jump is judged by it
	back        bool // read against the direction of the stations
}

func readingOf(r *trace.Reading, index int) reading {
	q := reading{Pos: r.Pos, StationM: r.StationM, OffsetM: r.OffsetM, TimeS: math.NaN(), HAccM: r.HAccM, HDOP: r.HDOP,
		DepthM: r.DepthM, CurrentMA: r.CurrentMA, Signal: r.Signal, SignalLow: r.SignalLow, SignalHigh: r.SignalHigh,
		NullOffsetM: r.NullOffsetM, FreqHz: r.FreqHz, Hookup: r.Hookup, index: int32(index), Fix: r.Fix, Phase: r.Phase,
		SetAside: r.Status == trace.StatusSetAside}
	if r.DepthDropped {
		q.DepthM = math.NaN()
	}
	if !r.Time.IsZero() {
		q.TimeS = float64(r.Time.UnixMilli()) / 1000
	}
	return q
}

// inStationOrder are the readings that a line is judged by: those in its
// centerline, and those set aside that were measured beside it.
func inStationOrder(rs []trace.Reading) []reading {
	var out []reading
	of := setups.Alike(setups.Of(rs))
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
		q := readingOf(r, i)
		q.setup = of[i]
		out = append(out, q)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].StationM < out[b].StationM })
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
