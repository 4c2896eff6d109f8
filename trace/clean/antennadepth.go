package clean

import (
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// mostHidden is by how much the depths may differ that the same two figures of a display
// mean, for either to be a depth. Judgement: a fifth to either side is twice what
// receivers are stated to err by.
const mostHidden = 1.5

// antennaDepth gives a reading that came without a depth the one that its two antennas
// show, the lower one at the ground. A neighbour bends it as it bends
// a receiver's own depth, which is made the same way.
func antennaDepth(r *trace.Reading, gapM float64, on display) {
	if r.SignalLow >= on.fullScale {
		return // the lower antenna shows less than it heard
	}
	if least, most := receiver.TwoAntennaDepthsM(r.SignalLow, r.SignalHigh, on.step, gapM); most > mostHidden*least {
		return // the last digit of a weak signal
	}
	if d := receiver.TwoAntennaDepthM(r.SignalLow, r.SignalHigh, gapM); d >= receiver.ShallowestM && d <= receiver.DeepestM {
		r.Reason = remark.DepthFromAntennas
		if trace.Known(r.DepthM) {
			r.Reason = remark.DepthInstead{ShownM: r.DepthM}
		}
		r.DepthM = d
	}
}

// fromAntennas reports whether a reading's depth was computed so.
func fromAntennas(r *trace.Reading) bool {
	_, instead := r.Reason.(remark.DepthInstead)
	return instead || r.Reason == trace.Remark(remark.DepthFromAntennas)
}

// withoutDepths reports whether no reading of a line came with a depth, be it one that
// was left out since.
func withoutDepths(t trace.Trace) bool {
	for i := range t.Readings {
		if trace.Known(t.Readings[i].DepthM) || t.Readings[i].DepthDropped {
			return false
		}
	}
	return true
}

// display is how a trace's signals are shown: the end of the scale, and the step, 0 where
// none shows.
type display struct{ fullScale, step float64 }

func displayOf(t trace.Trace) display {
	low, high := make([]float64, len(t.Readings)), make([]float64, len(t.Readings))
	for i := range t.Readings {
		low[i], high[i] = t.Readings[i].SignalLow, t.Readings[i].SignalHigh
	}
	return display{receiver.FullScale(low), receiver.AntennaStep(low, high)}
}

// AntennaNotes says where a line's depths come from, if not from the receiver, and
// where its antennas could not be compared.
func AntennaNotes(t trace.Trace, gapM float64) []trace.Remark {
	var notes []trace.Remark
	clipped, full := 0, displayOf(t).fullScale
	for i := range t.Readings {
		if t.Readings[i].SignalLow >= full {
			clipped++
		}
	}
	if clipped > 0 {
		notes = append(notes, remark.FullScale{Shown: full, N: clipped})
	}
	n, shown := 0, 0
	for i := range t.Readings {
		if trace.Known(t.Readings[i].DepthM) {
			shown++
		}
		if fromAntennas(&t.Readings[i]) {
			n++
		}
	}
	if n == 0 {
		return notes
	}
	return append(notes, remark.DepthsComputed{N: n, GapM: gapM, Among: n < shown})
}
