package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// shortestStretchM is the least length of a stretch that anybody can look at. Judgement.
const shortestStretchM = 1.0

// onTheLine holds a suspected stretch to its line, from 0 to endM, and gives it
// a length: a reading may have been judged at a station beyond either end, or at
// one place only.
func onTheLine(st bleed.Stretch, endM float64) bleed.Stretch {
	inside := func(v, unknown float64) float64 {
		if math.IsNaN(v) {
			return unknown
		}
		return math.Max(0, math.Min(endM, v))
	}
	st.FromM, st.ToM = inside(st.FromM, 0), inside(st.ToM, endM)
	if st.ToM < st.FromM {
		st.FromM, st.ToM = st.ToM, st.FromM
	}
	if short := shortestStretchM - (st.ToM - st.FromM); short > 0 && st.ToM-st.FromM < 1e-3 {
		st.FromM = math.Max(0, math.Min(st.FromM-short/2, endM-shortestStretchM))
		st.ToM = math.Min(endM, st.FromM+shortestStretchM)
	}
	return st
}

// endM is the station at which a line ends.
func endM(c *trace.Centerline) float64 {
	end := 0.0
	for _, p := range c.Parts {
		if n := len(p.Vertices); n > 0 {
			end = math.Max(end, p.Vertices[n-1].StationM)
		}
	}
	return end
}
