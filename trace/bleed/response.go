package bleed

import (
	"math"

	"loamline/trace/field"
)

// response is what coupling does to one reading.
type response struct {
	shiftM  float64 // mark minus true line
	nullM   float64 // null minus mark
	lnDepth float64 // log of depth shown over true
	lnField float64 // log of the lower antenna's field over that of the line alone
}

// respond returns the response to a neighbour with share r of the line's
// current, at asideM from the true line. It is not ok where the mark would
// slide onto the neighbour or no depth would show.
func respond(depthM, gapM, asideM, depth2M, r float64) (response, bool) {
	lines := [2]field.Conductor{{DepthM: depthM, CurrentA: 1}, {XM: asideM, DepthM: depth2M, CurrentA: complex(r, 0)}}
	s := field.Section{Lines: lines[:]}.Survey(0, gapM)
	if !(math.Abs(s.PeakM) < 0.6*math.Abs(asideM)) || !(math.Abs(s.NullM) < 2*depthM) || math.IsInf(s.DepthM, 0) {
		return response{}, false
	}
	alone := field.TeslaMetrePerAmpere / depthM
	return response{s.PeakM, s.NullOffsetM, math.Log(s.DepthM / depthM), math.Log(s.LowT / alone)}, true
}

// respondFromMark is respond with the neighbour at asideM from the mark, as it
// is measured: the mark's own shift is found along with it, by damped rounds.
func respondFromMark(depthM, gapM, asideM, depth2M, r float64) (response, bool) {
	var shift float64
	var out response
	for range 6 {
		next, ok := respond(depthM, gapM, asideM+shift, depth2M, r)
		if !ok {
			return response{}, false
		}
		out = next
		if math.Abs(next.shiftM-shift) < 0.002*depthM {
			return out, true
		}
		shift += 0.7 * (next.shiftM - shift)
	}
	return out, true
}
