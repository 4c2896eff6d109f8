package words

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// checkRemark says which checks were made and how those in the field came out.
func checkRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.Checked:
		return checks[r.Check].made, true
	case remark.NotChecked:
		c := checks[r.Check]
		return c.what + " could not be " + c.notMade, true
	case remark.Try:
		return tries[r], true
	case remark.Lift:
		return lift(u, r), true
	case remark.AirDepth:
		return fmt.Sprintf("Depth shows up to %s at %s", u.Short(r.DeepestM), readings(r.N)) + throughAir, true
	case remark.AirRatio:
		s := fmt.Sprintf("The two antennas read nearly the same at %s (ratio %.2f", readings(r.N), r.Ratio)
		if trace.Known(r.LineDepthM) {
			s += fmt.Sprintf("; a line %s deep gives %.2f", u.Short(r.LineDepthM), r.LineRatio)
		}
		return s + ")" + throughAir, true
	case remark.AntennasDiffer:
		at := fmt.Sprintf("all %d readings", r.Of)
		if r.N != r.Of {
			at = fmt.Sprintf("the %d readings, of %d, at which both can be compared", r.N, r.Of)
		}
		return fmt.Sprintf("The two antennas differ as over a line at %s; no sign of the transmitter's own field.", at), true
	case remark.NearTransmitter:
		s := fmt.Sprintf("%s within %s of the induction transmitter (nearest %s): its own field may add to the line's, and nothing says by how much: move it away and read again.",
			readings(r.N), u.Long(r.ReachM), u.Long(r.LeastM))
		if r.PositionAssumed {
			s += " Its position is not stated: it is assumed to stand where a field like its own was read."
		}
		return s, true
	}
	return "", false
}

// throughAir claims no more than is known: what else there is may read alike.
const throughAir = ", as a transmitter's own field through the air would show. Move the transmitter away and read again."

// checks are the checks for bleed-over: what is said of one that was made, and of one
// that could not be.
var checks = map[remark.Check]struct{ made, what, notMade string }{
	remark.CheckDepth:        {"Depth was checked against its trend along the line.", "Depth", "checked: no depth column."},
	remark.CheckDepthFew:     {"", "Depth", "checked: fewer than three depths could be used."},
	remark.CheckCurrent:      {"Current and signal were checked against their trend along the line.", "Current", "checked: no current or signal column."},
	remark.CheckCurrentAlone: {"Current was checked for places where it rises or falls at once; without a depth beside it no more could be.", "Current", "checked: no current column."},
	remark.CheckSignal:       {"The signal was checked against its trend along the line.", "Signal", "checked: no signal column."},
	remark.CheckNoCurrent:    {"", "Current", "checked: no current above zero."},
	remark.CheckNull:         {"Peak and null were compared.", "Peak and null", "compared: no null offset column."},
	remark.CheckDirection:    {"", "Current direction", "checked: no phase column."},
	remark.CheckAntennas:     {"", "Air coupling", "checked by antenna ratio: no columns for both antennas."},
}

// NotCheckable names what could not be checked, as 'Peak and null'.
func NotCheckable(r trace.Remark) (what string, ok bool) {
	n, ok := r.(remark.NotChecked)
	return checks[n.Check].what, ok
}

var tries = map[remark.Try]string{
	remark.TryDirect:    "Trace again with a direct connection, where the owner allows it.",
	remark.TryLowerFreq: "Trace again at a lower frequency: less signal leaks onto neighbours.",
	remark.TryOtherEnd:  "Trace again from the other end or another access point; the paint mark should not move.",
	remark.TryIsolate:   "Ask the owner to isolate the far-end ground or the common bond while you trace.",
	remark.TryPothole:   "Pothole by hand or vacuum before you rely on position or depth here.",
}

func lift(u geo.Units, r remark.Lift) string {
	s := fmt.Sprintf("Lifted by %s: depth grew by %s", u.Short(r.RaiseM), u.Short(r.GrowthM))
	if trace.Known(r.SignalRatio) {
		s += fmt.Sprintf(", signal went to %.0f %% (one line alone: %.0f %%)", 100*r.SignalRatio, 100*r.AloneRatio)
	}
	return s + ". " + liftShows[r.Shows]
}

var liftShows = map[remark.LiftShows]string{
	remark.LiftSignalStays: "The signal must fall: this is not a line below.",
	remark.LiftTooDeep:     "Depth must grow by the lift: signal through the air or another line reads it too deep.",
	remark.LiftTooShallow:  "Depth must grow by the lift: opposed current nearby may read it too shallow.",
	remark.LiftInScatter:   "Inconclusive: the growth differs from the lift by more than 15 %, but by no more than these depths scatter. Lift higher and read again.",
	remark.LiftTooSmall:    "Inconclusive: these depths scatter by as much as the lift, so that trouble would not have shown. Lift higher and read again.",
	remark.LiftNothing:     "No sign of trouble; the check is blind to a neighbour within about one depth that carries current the same way.",
}
