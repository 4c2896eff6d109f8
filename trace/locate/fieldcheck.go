package locate

import (
	"math"
	"sort"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// judgeFieldChecks judges the lift checks and the signs of air coupling of a
// line; each lift check's outcome is also written beside its reading.
func judgeFieldChecks(s *trace.Sheet, l *trace.Line, line bleed.Line) []trace.FieldCheck {
	var out []trace.FieldCheck
	add := func(checks []bleed.Check) {
		for _, c := range checks {
			out = append(out, trace.FieldCheck{Line: l.Setup.Name, Kind: c.Kind, At: c.Pos, StationM: c.StationM, Outcome: c.Outcome, Remark: c.Remark})
		}
	}
	lifts := bleed.LiftChecks(line, l.DepthRel)
	for _, c := range lifts {
		r := &l.Readings[c.Index]
		if !r.DepthDropped {
			r.Reason = nil
		}
		r.AddReason(c.Remark)
	}
	add(lifts)
	add(bleed.AirCoupling(line))
	return out
}

// leastGaps is from how many readings a distance of the antennas is taken.
const leastGaps = 5

// antennaGapM is the distance between the antennas as stated or, where it is
// not, as the readings themselves imply it.
func antennaGapM(t trace.Trace, statedM float64) float64 {
	if trace.Known(statedM) {
		return statedM
	}
	return impliedGapM(t, leastGaps)
}

// impliedGapM is the median distance of the antennas that depths and signals of a
// trace suppose, Unknown where fewer than least readings tell it.
func impliedGapM(t trace.Trace, least int) float64 {
	var gaps []float64
	full := fullScale(t)
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.SignalLow >= full {
			continue
		}
		if g := receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM); g > 0 && !math.IsInf(g, 0) && !(r.RaiseM > 0) {
			gaps = append(gaps, g)
		}
	}
	return medianOfAtLeast(gaps, least)
}

func medianOfAtLeast(v []float64, n int) float64 {
	if len(v) < n {
		return trace.Unknown
	}
	sort.Float64s(v)
	return v[len(v)/2]
}
