package locate

import (
	"fmt"

	"loamline/geo"
	"loamline/trace"
	"loamline/trace/receiver"
)

// antennaDepth gives a reading whose line came without depths the depth that its
// two antennas show, the lower one at the ground. A neighbour bends it as it bends
// a receiver's own depth, which is made the same way.
func antennaDepth(r *trace.Reading, gapM float64) {
	if d := receiver.TwoAntennaDepthM(r.SignalLow, r.SignalHigh, gapM); d > 0 && d <= receiver.DeepestM {
		r.DepthM = d
		r.Reason = fromAntennas
	}
}

// fromAntennas is what the ledger says of such a depth.
const fromAntennas = "depth computed from the two antennas"

// withoutDepths reports whether no reading of a line came with a depth.
func withoutDepths(t trace.Trace) bool {
	for i := range t.Readings {
		if trace.Known(t.Readings[i].DepthM) {
			return false
		}
	}
	return true
}

// antennaNotes says where a line's depths come from, if not from the receiver.
func antennaNotes(t trace.Trace, gapM float64, u geo.Units) []string {
	n := 0
	for i := range t.Readings {
		if t.Readings[i].Reason == fromAntennas {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return []string{fmt.Sprintf("The table gives no depth: it was computed at %d readings from the two antennas, taken as %s apart with the bottom one at the ground.", n, u.Short(gapM))}
}
