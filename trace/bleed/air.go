package bleed

// AirCoupled reports whether the two antennas of a reading see the
// transmitter's own field rather than a line's: over a line the lower antenna
// reads (d+gap)/d times the upper one, in the air they read nearly the same.
// The limit is a depth of 4 m or six times the expected depth, beyond what an
// induced signal reaches (common practice, no source). Signals share any
// scale; a gap or depth that is not known is NaN.
func AirCoupled(low, high, gapM, depthM float64) bool {
	if !(low > 0) || !(high > 0) {
		return depthM > airDepthM
	}
	if high >= low {
		return true
	}
	if !(gapM > 0) {
		return low/high < 1.06
	}
	return gapM*high/(low-high) > airDepthM
}

// airDepthM is the depth beyond which a reading is taken for air-coupled.
const airDepthM = 6
