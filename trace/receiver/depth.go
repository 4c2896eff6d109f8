package receiver

import "math"

// TwoAntennaDepthM returns the depth in metres below the lower antenna from
// the horizontal fields at the lower and the upper antenna, gapM apart, to the
// conductor's centre. By Ampère's law the field of one long line falls off as
// the inverse of the distance, so low/high = (depth+gap)/depth, and the depth is
// gap·high/(low−high). Without a fall from low to high there is no depth: the
// result is +Inf. Low and high share any unit.
func TwoAntennaDepthM(low, high, gapM float64) float64 {
	if high >= low {
		return math.Inf(1)
	}
	return gapM * high / (low - high)
}

// AntennaGapM returns how far apart the antennas are that show a depth from low
// and high: d·(low/high−1).
func AntennaGapM(low, high, depthM float64) float64 { return depthM * (low/high - 1) }

// RatioOverLine is the field of a line at depthM over that riseM higher up: (d+rise)/d.
func RatioOverLine(depthM, riseM float64) float64 { return (depthM + riseM) / depthM }

// TwoAntennaDepthsM returns the least and the most depth that two signals may mean which
// are shown on a step, which is 0 where it is not known: each stands for all within half a
// step of it. The most is infinite where the antennas may as well have heard the same.
func TwoAntennaDepthsM(low, high, step, gapM float64) (leastM, mostM float64) {
	return TwoAntennaDepthM(low+step/2, high-step/2, gapM), TwoAntennaDepthM(low-step/2, high+step/2, gapM)
}

// CurrentA returns the current in amperes from the field in tesla at the lower
// antenna over a single line: d·B/k.
func CurrentA(lowT, depthM float64) float64 { return depthM * lowT / TeslaMetrePerAmpere }

// RatioErrorGrowth returns by how much a relative error of low/high is
// magnified in the two-antenna depth: (d+gap)/gap.
func RatioErrorGrowth(depthM, gapM float64) float64 { return (depthM + gapM) / gapM }
