package antennapair

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// When readings tell a factor. Judgement.
const (
	leastCompared = 8   // of them
	sigmas        = 3.0 // of its own error
	coarse        = 0.1 // a step of the display, of the difference of both signals
	// A bottom antenna carried carriedM above the ground makes as much of it.
	carriedM = 0.1
)

// factor is what the depths shown stand over those that the antennas give, 0 where too few
// tell it, where they scatter by more, or where the line was exposed to its depth.
func factor(rs []trace.Reading, gapM float64) float64 {
	if !trace.Known(gapM) || !(gapM > 0) {
		return 0
	}
	low, high := make([]float64, len(rs)), make([]float64, len(rs))
	for i := range rs {
		low[i], high[i] = rs[i].SignalLow, rs[i].SignalHigh
	}
	full, step := receiver.FullScale(low), receiver.AntennaStep(low, high)
	var lns []float64
	for i := range rs {
		r := &rs[i]
		if r.Exposed && trace.Known(r.DepthM) {
			return 0
		}
		if r.Status != trace.StatusUsed || r.DepthDropped || r.RaiseM > 0 || r.SignalLow >= full || step > coarse*(r.SignalLow-r.SignalHigh) {
			continue
		}
		if g := receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM); g > 0 && !math.IsInf(g, 0) {
			lns = append(lns, math.Log(g/gapM))
		}
	}
	if len(lns) < leastCompared {
		return 0
	}
	usual := ranked.Median(lns)
	off := make([]float64, len(lns))
	for i, x := range lns {
		off[i] = math.Abs(x - usual)
	}
	if math.Abs(usual) < sigmas*ranked.NormalSigma*ranked.Median(off)/math.Sqrt(float64(len(lns))) {
		return 0
	}
	return math.Exp(usual)
}

// Hold has the band of a line's depths hold those that its antennas give too, and has the
// line say so: by a factor that was told already, or, where that is 0 and no exposure
// settled the depths, by the one that its readings show.
func Hold(l *trace.Line, told float64, settled bool, gapM float64) {
	f := told
	if f == 0 && !settled {
		f = factor(l.Readings, gapM)
	}
	if f == 0 {
		return
	}
	widened := false
	for _, p := range l.Centerline.Parts {
		for k := range p.Vertices {
			v := &p.Vertices[k]
			other := v.DepthM / f
			needM := math.Abs(v.DepthM - other)
			if told == 0 {
				if needM <= carriedM {
					continue
				}
				needM += receiver.DepthSigmaRel(other) * other // what the antennas' depth is off itself
			}
			if needM > v.Depth95M {
				v.Depth95M, widened = needM, true
			}
		}
	}
	if widened && told == 0 {
		l.Centerline.Notes = append(l.Centerline.Notes, remark.OtherThanAntennas{Times: f, GapM: gapM})
	}
}
