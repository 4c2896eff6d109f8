package clean

import (
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// antennaDepth gives a reading that came without a depth the one that its two antennas
// show, the lower one at the ground. A neighbour bends it as it bends
// a receiver's own depth, which is made the same way.
func antennaDepth(r *trace.Reading, gapM, fullScale float64) {
	if r.SignalLow >= fullScale {
		return // the lower antenna shows less than it heard
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

// fullScale is the end of the display of a trace's signals.
func fullScale(t trace.Trace) float64 {
	low := make([]float64, len(t.Readings))
	for i := range t.Readings {
		low[i] = t.Readings[i].SignalLow
	}
	return receiver.FullScale(low)
}

// AntennaNotes says where a line's depths come from, if not from the receiver, and
// where its antennas could not be compared.
func AntennaNotes(t trace.Trace, gapM float64) []trace.Remark {
	var notes []trace.Remark
	clipped, full := 0, fullScale(t)
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
