package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// ThroughAir tells which readings of a line, in the order of the walk, show the
// transmitter's own field and not a line's. Over a line the lower antenna reads
// (d+gap)/d times the upper one, in the air they read nearly the same (a dipole
// 3 m away: 1.0009), which looks like a great depth. So does a line that dives;
// but a line that dives fades as it goes away, so that signal times depth, which
// is the current, stays what it is nearby, and the transmitter's field makes that
// many times larger. A reading is taken for air-coupled where the antennas show no
// line at all, or where they, or without them the receiver, show a depth well
// beyond the line's and a current well beyond that of the readings nearby, whatever lies
// within the steps of what is shown: of the last hundredths of a signal both antennas
// show the same. Without a signal or a current there is no evidence of the air. Signals share any scale;
// what is not known is NaN.
func ThroughAir(rs []*trace.Reading, gapM float64) []bool {
	rds := make([]reading, len(rs))
	for k, r := range rs {
		rds[k] = readingOf(r, k)
	}
	return throughAir(rds, gapM)
}

func throughAir(rds []reading, gapM float64) []bool {
	rds = withoutClipped(rds)
	out := make([]bool, len(rds))
	deep := make([]bool, len(rds))
	expected := shownDepth(rds, gapM)
	least := mostOfALine(rds)
	for k, r := range least {
		if r.SignalLow > 0 && r.SignalHigh > 0 && antennaDepthM(r, gapM) > receiver.DeepestM {
			out[k], deep[k] = true, true
			continue
		}
		deep[k] = depthShownM(r, gapM) > math.Max(receiver.AirDepths*expected, expected+1)
	}
	for k, r := range least {
		if !deep[k] || out[k] {
			continue
		}
		nearby := currentNearby(rds, deep, k, gapM)
		// The error of the current is that of the depth, which grows with it.
		doubt := 2 * receiver.DepthSigmaRel(math.Min(depthShownM(r, gapM), receiver.DeepestM))
		out[k] = currentShown(r, gapM) > airCurrents*(1+doubt)*nearby
	}
	return out
}

// withoutClipped leaves out the signals of readings at which the display had reached
// its end: the antennas cannot be compared there.
func withoutClipped(rds []reading) []reading {
	full := fullScale(rds)
	if math.IsInf(full, 1) {
		return rds
	}
	out := append([]reading(nil), rds...)
	for k := range out {
		if r := &out[k]; r.SignalLow >= full {
			r.SignalLow, r.SignalHigh = math.NaN(), math.NaN()
		}
	}
	return out
}

// mostOfALine has the antennas show what is nearest to a line below within the step
// that their signals are shown on.
func mostOfALine(rds []reading) []reading {
	low, high := make([]float64, len(rds)), make([]float64, len(rds))
	for k, r := range rds {
		low[k], high[k] = r.SignalLow, r.SignalHigh
	}
	half := receiver.AntennaStep(low, high) / 2
	if half == 0 {
		return rds
	}
	out := append([]reading(nil), rds...)
	for k := range out {
		out[k].SignalLow += half
		out[k].SignalHigh -= half
	}
	return out
}

// Limits beyond which a reading is taken for air-coupled (common practice, no
// source): receiver.AirDepths, and a multiple of the current nearby.
const (
	airCurrents  = 1.6
	airNeighbors = 5 // to each side
)

// antennaDepthM is the depth below the lower antenna that the two antennas show.
func antennaDepthM(r reading, gapM float64) float64 {
	if !(gapM > 0) {
		gapM = receiver.UsualGapM
	}
	return receiver.TwoAntennaDepthM(r.SignalLow, r.SignalHigh, gapM)
}

// depthShownM is the depth by the antennas, or the receiver's; NaN without.
func depthShownM(r reading, gapM float64) float64 {
	if r.SignalLow > 0 && r.SignalHigh > 0 {
		return antennaDepthM(r, gapM)
	}
	return r.DepthM
}

// currentShown is the current that a reading shows, on any scale that is the same
// along a line; NaN without.
func currentShown(r reading, gapM float64) float64 {
	switch {
	case r.SignalLow > 0 && r.SignalHigh > 0:
		return r.SignalLow * antennaDepthM(r, gapM)
	case r.Signal > 0:
		return r.Signal * r.DepthM
	}
	return r.CurrentMA
}

// currentNearby is the median current of the nearest readings that are not deep,
// NaN without any.
func currentNearby(rds []reading, deep []bool, k int, gapM float64) float64 {
	var near []float64
	for _, way := range [...]int{-1, 1} {
		n := 0
		for i := k + way; i >= 0 && i < len(rds) && n < airNeighbors; i += way {
			if c := currentShown(rds[i], gapM); !deep[i] && c > 0 {
				near, n = append(near, c), n+1
			}
		}
	}
	if len(near) == 0 {
		return math.NaN()
	}
	return median(near)
}

// shownDepth is the median depth that a line's readings show, NaN with fewer than
// leastForMedian.
func shownDepth(rds []reading, gapM float64) float64 {
	var d []float64
	for _, r := range rds {
		if v := depthShownM(r, gapM); v > 0 && v < receiver.DeepestM {
			d = append(d, v)
		}
	}
	if len(d) < leastForMedian {
		return math.NaN()
	}
	return median(d)
}

// AirCoupling judges a line's readings in runs: those whose antennas show the
// transmitter's field, and those too near to an induction transmitter.
func AirCoupling(line Line) []Check {
	rds := inStationOrder(line.Readings)
	air := throughAir(rds, line.AntennaGapM)
	line.rd = withoutClipped(rds)
	expected := shownDepth(line.rd, line.AntennaGapM)
	var out []Check
	both := 0
	for _, r := range line.rd {
		if r.SignalLow > 0 && r.SignalHigh > 0 {
			both++
		}
	}
	for k := 0; k < len(line.rd); k++ {
		if !air[k] {
			continue
		}
		from := k
		for k+1 < len(line.rd) && air[k+1] {
			k++
		}
		out = append(out, airCheck(line.rd[from:k+1], expected, line.AntennaGapM))
	}
	if c, ok := nearTransmitter(line); ok {
		out = append(out, c)
	}
	if len(out) == 0 && both > 0 {
		r := line.rd[len(line.rd)/2]
		out = append(out, Check{Kind: trace.CheckAirCoupling, Index: int(r.index), StationM: r.StationM, Pos: r.Pos, Outcome: trace.OutcomePassed,
			Remark: remark.AntennasDiffer{N: both, Of: len(line.rd)}})
	}
	return out
}

func airCheck(run []reading, expectedM, gapM float64) Check {
	r := run[len(run)/2]
	c := Check{Kind: trace.CheckAirCoupling, Index: int(r.index), StationM: r.StationM, Pos: r.Pos, Outcome: trace.OutcomeFailed,
		FromM: run[0].StationM, ToM: run[len(run)-1].StationM}
	c.Remark = remark.AirDepth{DeepestM: deepest(run), N: len(run)}
	if r.SignalLow > 0 && r.SignalHigh > 0 {
		ratio := remark.AirRatio{N: len(run), Ratio: r.SignalLow / r.SignalHigh, LineDepthM: trace.Unknown, LineRatio: trace.Unknown}
		if gapM > 0 && expectedM > 0 {
			ratio.LineDepthM, ratio.LineRatio = expectedM, receiver.RatioOverLine(expectedM, gapM)
		}
		c.Remark = ratio
	}
	return c
}

func deepest(run []reading) float64 {
	d := 0.0
	for _, r := range run {
		if r.DepthM > d {
			d = r.DepthM
		}
	}
	return d
}

func nearTransmitter(line Line) (Check, bool) {
	if line.Transmitter == nil {
		return Check{}, false
	}
	reach, n := receiver.TransmitterReachM(line.PowerW), 0
	var at reading
	nearest := math.Inf(1)
	for _, r := range line.rd {
		if r.Hookup != trace.HookupInduction {
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
	alongM := math.Sqrt(reach*reach - nearest*nearest)
	return Check{Kind: trace.CheckAirCoupling, Index: int(at.index), StationM: at.StationM, Pos: at.Pos, Outcome: trace.OutcomeFailed,
		FromM: at.StationM - alongM, ToM: at.StationM + alongM,
		Remark: remark.NearTransmitter{N: n, ReachM: reach, LeastM: nearest, PositionAssumed: line.TransmitterInferred}}, true
}
