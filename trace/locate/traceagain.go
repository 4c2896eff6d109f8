package locate

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// traceAgainAt is the evidence on a stretch with the station from which to trace the
// line again at an end of the stretch as it is drawn, and not at a reading within it:
// the detector carries a jump on to the readings about it, and a chain has stations of
// its own. Which of the two ends it is, the detector's own stretch tells.
func traceAgainAt(drawn, found bleed.Stretch) []trace.Remark {
	out := slices.Clone(drawn.Evidence)
	for i, e := range out {
		switch e := e.(type) {
		case remark.TraceAgainFrom:
			e.StationM = endNear(drawn, found, e.StationM)
			out[i] = e
		case remark.CurrentFalls:
			e.StationM = endNear(drawn, found, e.StationM)
			out[i] = e
		case remark.StepToUnmapped:
			e.StationM = endNear(drawn, found, e.StationM)
			out[i] = e
		}
	}
	return out
}

// endNear is the end of a stretch as it is drawn at which a station lies of the stretch as
// it was found.
func endNear(drawn, found bleed.Stretch, stationM float64) float64 {
	if math.Abs(stationM-found.ToM) < math.Abs(stationM-found.FromM) {
		return drawn.ToM
	}
	return drawn.FromM
}

// leavesM is where the evidence on a jump says to trace the line again, else where the
// jump begins.
func leavesM(b finding.BleedOver) float64 {
	for _, e := range b.Evidence {
		switch e := e.(type) {
		case remark.TraceAgainFrom:
			return e.StationM
		case remark.StepToUnmapped:
			return e.StationM
		case remark.CurrentFalls:
			return e.StationM
		}
	}
	return b.FromM
}
