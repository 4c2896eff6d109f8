package receiver

import "math"

// Errors of a depth.
const (
	// DepthNoiseRel is the random error of a depth of 1 m, one sigma, relative
	// (common practice, no source: 5 % of depth down to 3 m on a lone line is the
	// usual figure of the trade for all errors together).
	DepthNoiseRel = 0.04
	// DepthScaleRel is the error, one sigma, relative, that all depths of one
	// receiver on one day have in common: soil, calibration and stray coupling.
	// 10 to 15 % of depth is what the trade allows for ordinary streets (common
	// practice, no source), 15 % the band of PAS 128 QL-B1; 13.3 % at 95 %
	// is taken, about the middle of the former. A uniform ground of 10 to 100 ohm metres
	// alone makes -1 to -14 % at 1 m (after Wait and Spies 1971, Radio Science
	// 6:781).
	DepthScaleRel = 0.068
	// LeastDepthRel is the least random error that depths of a line are taken to show: a
	// lower one lets chance make much of a trace that happens to scatter little. Judgement.
	LeastDepthRel = 0.015
	// ShownDepthM is the part of a depth's random error that does not grow with it, one
	// sigma, where no step of the display shows (common practice, no source; displays
	// round to 1 to 5 cm).
	ShownDepthM = 0.03
	// MostDepthRel is the most random error of a depth that scatter may show, one sigma.
	// What scatters more is depths of two kinds, not noise (common practice, no source).
	MostDepthRel = 0.10
	// ExposedDepthM is the error of a depth that was measured to an open line
	// (common practice, no source).
	ExposedDepthM = 0.02
	// ExposedM is the error of the position of an open line, one sigma per axis, where
	// nothing is told of it (common practice, no source).
	ExposedM = 0.02
	// ExposedMiddleM is how well the middle of an open line is found across, one sigma
	// (judged; no source).
	ExposedMiddleM = 0.01
	// DepthFloorRel is what every depth of a receiver may be off, one sigma, relative,
	// however many were read (judged; no source).
	DepthFloorRel = 0.006
)

// DepthSigmaRel is the random error of a depth, one sigma, relative: from two
// antennas a gap apart it grows as (d + gap)/gap (by differentiating
// d = gap/(ratio - 1), Ampère's law).
func DepthSigmaRel(depthM float64) float64 {
	return DepthNoiseRel * (1 + depthM/UsualGapM) / (1 + 1/UsualGapM)
}

// DepthScale95M is the half-width of the 95 % band that a common factor with a
// sigma of rel puts on a depth: the wider side, as depths that read too small lie
// farther off.
func DepthScale95M(depthM, rel float64) float64 { return depthM * math.Expm1(1.96*rel) }

// NullGrowth is how the noise of a null grows with depth, 1 at a metre: a deeper line has a
// flatter zero. Common practice, no source.
func NullGrowth(depthM float64) float64 { return math.Sqrt(0.5 + 0.5*depthM*depthM) }

// LeastMarkM is the least error of marking a peak, one sigma (common practice, no source).
const LeastMarkM = 0.02

// PinpointM is the error across the line, one sigma, with which the peak is
// found: 3 % of the depth, at least 2 cm and at most 12 (common practice, no source).
func PinpointM(depthM float64) float64 {
	return math.Max(LeastMarkM, math.Min(0.12, 0.03*depthM))
}

// ElbowPinM is what finding the peak adds to where it stands at a sharp elbow, at most.
// Judgement.
const ElbowPinM = 0.05

// PinpointReadM is PinpointM at a depth as it was read, and otherwiseM where that can be
// none. A band is to hold what is not known, and takes the error at a usual depth; who asks
// whether a reading contradicts a line takes the least, LeastMarkM, so that no error that
// nobody knows of excuses the line.
func PinpointReadM(depthM, otherwiseM float64) float64 {
	if depthM > 0 && depthM <= DeepestM {
		return PinpointM(depthM)
	}
	return otherwiseM
}

// PinpointSpread is how far the error of finding the peak may be from PinpointM, one sigma
// of ln (judged: by a factor of 1.8; no source).
const PinpointSpread = 0.6
