package clean

import (
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// throughAir tells which readings of a trace with both antennas show the
// transmitter's own field. Raised, exposed and useless ones are left out.
func throughAir(t trace.Trace, gapM float64) []bool {
	out := make([]bool, len(t.Readings))
	var rds []*trace.Reading
	var at []int
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.Status == "" && !r.Exposed && !(r.RaiseM > 0) && r.Fix.Measured() && r.SignalLow > 0 && r.SignalHigh > 0 {
			rds, at = append(rds, r), append(at, i)
		}
	}
	for k, air := range bleed.ThroughAir(rds, gapM) {
		out[at[k]] = air
	}
	return out
}
