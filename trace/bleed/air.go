package bleed

import (
	"fmt"
	"math"

	"loamline/geo"
	"loamline/trace/receiver"
)

// AirCoupled reports whether a reading shows the transmitter's own field
// rather than a line's: over a line the lower antenna reads (d+gap)/d times the
// upper one, in the air they read nearly the same (a dipole 3 m away: 1.0009).
// It is taken for air-coupled where the depth that the antennas, or without
// them the receiver, show is more than airDepths times what the line is
// expected to have. Signals share any scale; what is not known is NaN: without
// the gap the limit is a ratio, without an expected depth it is airDepthM.
func AirCoupled(low, high, gapM, depthM, expectedM float64) bool {
	limit := float64(airDepthM)
	if expectedM > 0 {
		limit = math.Max(airDepths*expectedM, expectedM+1)
	}
	if low > 0 && high > 0 {
		if high >= low {
			return true
		}
		if gapM > 0 {
			return receiver.TwoAntennaDepthM(low, high, gapM) > limit
		}
		if !(depthM > 0) {
			return low/high < airRatio
		}
	}
	return depthM > limit
}

// Limits beyond which a reading is taken for air-coupled (common practice, no
// source): a depth in metres, a multiple of the expected depth, a ratio of the
// antennas.
const (
	airDepthM = 6
	airDepths = 1.8
	airRatio  = 1.06
)

// transmitterReachM is how far an induction transmitter's own field is to be
// reckoned with: about 10 m at low output, 15 to 25 m at high (common
// practice, no source).
func transmitterReachM(powerW float64) float64 {
	switch {
	case powerW > 3:
		return 25
	case powerW > 1:
		return 15
	}
	return 10
}

// AirCoupling judges a line's readings in runs: those whose antennas show the
// transmitter's field, and those too near to an induction transmitter.
func AirCoupling(line Line, units geo.Units) []Check {
	expected := typicalDepth(line.Readings)
	var out []Check
	both := false
	for k := 0; k < len(line.Readings); k++ {
		r := line.Readings[k]
		both = both || r.SignalLow > 0 && r.SignalHigh > 0
		if !coupledThroughAir(r, line.AntennaGapM, expected) {
			continue
		}
		from := k
		for k+1 < len(line.Readings) && coupledThroughAir(line.Readings[k+1], line.AntennaGapM, expected) {
			k++
		}
		out = append(out, airCheck(line.Readings[from:k+1], expected, line.AntennaGapM, units))
	}
	if c, ok := nearTransmitter(line, units); ok {
		out = append(out, c)
	}
	if len(out) == 0 && both && len(line.Readings) > 0 {
		r := line.Readings[len(line.Readings)/2]
		out = append(out, Check{Kind: "air_coupling", Index: r.Index, StationM: r.StationM, Pos: r.Pos, Passed: true,
			Words: fmt.Sprintf("The two antennas differ as over a line at all %d readings; no sign of the transmitter's own field.", len(line.Readings))})
	}
	return out
}

func coupledThroughAir(r Reading, gapM, expectedM float64) bool {
	return AirCoupled(r.SignalLow, r.SignalHigh, gapM, r.DepthM, expectedM) && (r.SignalLow > 0 || r.Hookup == "induction")
}

// typicalDepth is the median depth of a line's readings, NaN without any.
func typicalDepth(rds []Reading) float64 {
	var d []float64
	for _, r := range rds {
		if r.DepthM > 0 {
			d = append(d, r.DepthM)
		}
	}
	if len(d) < 5 {
		return math.NaN()
	}
	return median(d)
}

func airCheck(run []Reading, expectedM, gapM float64, units geo.Units) Check {
	r := run[len(run)/2]
	c := Check{Kind: "air_coupling", Index: r.Index, StationM: r.StationM, Pos: r.Pos}
	c.Words = fmt.Sprintf("Depth shows up to %s at %s", units.Short(deepest(run)), readings(len(run)))
	if r.SignalLow > 0 && r.SignalHigh > 0 {
		c.Words = fmt.Sprintf("The two antennas read nearly the same at %s (ratio %.2f", readings(len(run)), r.SignalLow/r.SignalHigh)
		if gapM > 0 && expectedM > 0 {
			c.Words += fmt.Sprintf("; a line %s deep gives %.2f", units.Short(expectedM), (expectedM+gapM)/expectedM)
		}
		c.Words += ")"
	}
	c.Words += ": this is the transmitter's own field through the air, not the line. Move the transmitter away and read again."
	return c
}

func deepest(run []Reading) float64 {
	d := 0.0
	for _, r := range run {
		if r.DepthM > d {
			d = r.DepthM
		}
	}
	return d
}

func nearTransmitter(line Line, units geo.Units) (Check, bool) {
	if line.Transmitter == nil {
		return Check{}, false
	}
	reach, n := transmitterReachM(line.PowerW), 0
	var at Reading
	nearest := math.Inf(1)
	for _, r := range line.Readings {
		if r.Hookup != "induction" {
			continue
		}
		d := r.Pos.Dist(*line.Transmitter)
		if d < reach {
			n++
		}
		if d < nearest {
			nearest, at = d, r
		}
	}
	if n == 0 {
		return Check{}, false
	}
	return Check{Kind: "air_coupling", Index: at.Index, StationM: at.StationM, Pos: at.Pos,
		Words: fmt.Sprintf("%s within %s of the induction transmitter (nearest %s): its own field may add to the line's.",
			readings(n), units.Long(reach), units.Long(nearest))}, true
}
