package unheard

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/clean"
)

// value is one of those that a locator shows only while it hears something, with what it
// shows at a reading; 0 where it shows nothing. A null that is not off the peak is a zero
// as well, and tells nothing.
type value func(r *trace.Reading) float64

var values = []value{
	func(r *trace.Reading) float64 {
		switch {
		case !trace.Known(r.DepthM) && r.DepthDropped:
			return leftOut
		case clean.IsBlank(r):
			return 0
		}
		return r.DepthM
	},
	func(r *trace.Reading) float64 { return r.CurrentMA },
	func(r *trace.Reading) float64 { return r.Signal },
	func(r *trace.Reading) float64 { return r.SignalLow },
	func(r *trace.Reading) float64 { return r.SignalHigh },
}

// leftOut stands for a depth that was shown and is not believed.
const leftOut = math.MaxFloat64

// leastOften is on what part of a walk a value is there that it may be missed elsewhere.
// Judgement: more often than at every fourth reading.
const leastOften = 0.26

// usual are the values that most readings of a walk have.
func usual(rs []*trace.Reading) []value {
	var out []value
	for _, v := range values {
		n := 0
		for _, r := range rs {
			if v(r) > 0 {
				n++
			}
		}
		if float64(n) >= leastOften*float64(len(rs)) {
			out = append(out, v)
		}
	}
	return out
}

// nothing reports whether a reading has none of them.
func nothing(r *trace.Reading, of []value) bool {
	for _, v := range of {
		if v(r) > 0 {
			return false
		}
	}
	return len(of) > 0
}

const (
	// heldValues is how many values at least repeat together: one alone stays the same on
	// a level line. Judgement.
	heldValues = 2
	// heldM is how far apart the places of two readings lie at least that are not the
	// same one read twice. Judgement.
	heldM = 0.1
)

// held reports whether a reading shows again what the one before showed, to the last
// figure, at another place.
func held(r, before *trace.Reading, of []value) bool {
	n := 0
	for _, v := range of {
		a, b := v(r), v(before)
		if a != b && !(math.IsNaN(a) && math.IsNaN(b)) || a == leftOut {
			return false
		}
		if a > 0 {
			n++
		}
	}
	if null := r.NullOffsetM; null == before.NullOffsetM {
		n++
	} else if trace.Known(null) {
		return false
	}
	return n >= heldValues && r.Pos.Dist(before.Pos) >= heldM
}
