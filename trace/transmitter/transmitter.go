// Package transmitter tells where the transmitter of a line stands: as stated, or, for
// induction, where the readings look as its own field makes them.
package transmitter

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Depths that fall from an end of the walk as a transmitter's own field makes them. That
// field adds as much to both antennas, which the receiver takes for depth, and falls with the
// cube of the distance (Biot and Savart, for a coil). A line that comes up from there looks
// alike, and without the antennas nothing tells the two apart, but for the current, which a
// receiver makes of signal times depth: a line that comes up keeps it (Ampère's law), and that
// field makes it fall with the depths. Judgement.
const (
	leastTaken  = 2  // depths of receiver.AirDepths: one may be a slip
	leastFalls  = 4  // depths in a row, each less than the one before
	leastDepths = 10 // that tell how deep the line lies
	bothFall    = 3  // readings in a row tell where depth and current fall together,
	airDepth    = 1.3
	airCurrent  = 1.6 // from so many times the line's own on,
	nextCurrent = 1.2 // and where the next current is above it too
)

// At is where the transmitter stands: as stated, or for induction where the antennas hear
// most of its own field, or else where depths fall as they do beside it. inferred tells that
// it was not stated; at is nil where nothing shows it.
func At(rs []trace.Reading, setup trace.LineSetup, plane geo.Plane) (at *geo.XY, inferred bool) {
	if setup.Transmitter != nil {
		p := plane.XY(*setup.Transmitter)
		return &p, false
	}
	nearest := math.Inf(1)
	for i := range rs {
		r := &rs[i]
		if ratio := r.SignalLow / r.SignalHigh; AirCoupled(r) && r.Placed() && r.Hookup == trace.HookupInduction && ratio < nearest {
			nearest, at = ratio, &r.Pos
		}
	}
	if at == nil {
		at = byDepths(rs)
	}
	return at, at != nil
}

// AirCoupled reports whether a reading was set aside for the transmitter's own field.
func AirCoupled(r *trace.Reading) bool {
	_, is := r.Reason.(remark.AirCoupled)
	return is && r.Status == trace.StatusSetAside
}

// byDepths is the end of a walk from which depths fall as beside a transmitter, nil without.
func byDepths(rs []trace.Reading) *geo.XY {
	var on []*trace.Reading
	var depths, currents []float64
	for i := range rs {
		r := &rs[i]
		if r.Hookup != trace.HookupInduction || !r.Placed() || r.Exposed || r.Status == trace.StatusCheck {
			continue
		}
		if r.SignalLow > 0 && r.SignalHigh > 0 {
			return nil // the antennas tell
		}
		if r.DepthM > 0 {
			depths = append(depths, r.DepthM)
		}
		if r.CurrentMA > 0 {
			currents = append(currents, r.CurrentMA)
		}
		on = append(on, r)
	}
	if len(depths) < leastDepths {
		return nil
	}
	level, currentMA := ranked.Median(depths), math.Inf(1)
	if len(currents) >= leastDepths {
		currentMA = ranked.Median(currents)
	}
	if fallsFrom(on, level, 1) || fallTogether(on, level, currentMA, 1) {
		return &on[0].Pos
	}
	if fallsFrom(on, level, -1) || fallTogether(on, level, currentMA, -1) {
		return &on[len(on)-1].Pos
	}
	return nil
}

// fallTogether reports whether depth and current fall together from the first reading on (way
// 1), or from the last one back (-1), from well beyond those of the line.
func fallTogether(on []*trace.Reading, levelM, levelMA float64, way int) bool {
	at := func(k int) *trace.Reading {
		if way < 0 {
			k = len(on) - 1 - k
		}
		return on[k]
	}
	for k := 1; k < bothFall; k++ {
		if a, b := at(k-1), at(k); !(b.DepthM > 0 && b.DepthM < a.DepthM && b.CurrentMA > 0 && b.CurrentMA < a.CurrentMA) {
			return false
		}
	}
	return at(0).DepthM >= airDepth*levelM && at(0).CurrentMA >= airCurrent*levelMA && at(1).CurrentMA >= nextCurrent*levelMA
}

// fallsFrom reports whether the depths fall as beside a transmitter from the first reading
// on (way 1), or from the last one back (-1).
func fallsFrom(on []*trace.Reading, levelM float64, way int) bool {
	taken, falls, before := 0, 0, math.Inf(1)
	for k := range on {
		d := on[k].DepthM
		if way < 0 {
			d = on[len(on)-1-k].DepthM
		}
		if !(d > 0) {
			continue // a depth that cannot be one was left out
		}
		if d >= before {
			break
		}
		if falls++; d >= receiver.AirDepths*levelM {
			taken++
		}
		before = d
	}
	return taken >= leastTaken && falls >= leastFalls
}
