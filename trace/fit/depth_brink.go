package fit

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
)

// A depth that stands alone is one where the signal changed with it as it does over a line at
// that depth: signal times depth goes by the current, and stays (Ampère's law), of a short dive
// or hump a little less. A figure that the receiver got wrong has no such signal, and another
// line's current falls in with it by chance alone. At an end of its readings a depth has no
// others on the far side: the line may well go down or up there, and nobody comes back to say
// that it does not. There it is none where the signal stayed, and where no signal tells it is
// neither believed nor left out, unless it is so much shallower that it is told of by itself
// where it is left out (package guard). Judgement.
const (
	innerDepths           = 4        // depths beside it, on the side that there is, that tell the level
	fewestInner           = 3        // of those, and of signals
	reportedShallow       = 0.29     // ln of the depth: a quarter of it
	leastTogether         = 0.5      // of what it stands out, by which those farther out do so too
	leastHeard, mostHeard = 0.6, 1.4 // of the change of depth that the signal shows, in logs
)

// brink is what is known of a depth that stands out.
type brink int8

const (
	within    brink = iota // others on both sides tell of it
	contrary               // at an end, and the signal says that it is none
	supported              // the signal says that it is one
	untested               // at an end, and nothing tells
)

// atBrink tells what a depth that stands out is, and by how much its ln does from the depths
// beside it.
func atBrink(s []sounding, i int) (what brink, off float64) {
	for _, out := range [...]int{-1, 1} {
		inner := innerOf(s, i, -out)
		if len(inner) < fewestInner {
			continue
		}
		off := s[i].lnDepth - middleOf(inner, depthOf)
		if !outward(s, i, out, off, middleOf(inner, depthOf)) {
			continue
		}
		return bySignal(s[i], inner, off), off
	}
	about := slices.Concat(s[max(0, i-spikeWindow):i], s[i+1:min(len(s), i+spikeWindow+1)])
	if off := s[i].lnDepth - middleOf(about, depthOf); bySignal(s[i], about, off) == supported {
		return supported, off
	}
	return within, 0
}

// innerOf are the depths next to one on a side.
func innerOf(s []sounding, i, way int) []sounding {
	if way > 0 {
		return s[i+1 : min(len(s), i+1+innerDepths)]
	}
	return s[max(0, i-innerDepths):i]
}

// outward reports whether a depth lies within spikeWindow of the end on a side, and all
// that lie farther out stand out with it.
func outward(s []sounding, i, out int, off, level float64) bool {
	n := 0
	for k := i + out; k >= 0 && k < len(s); k += out {
		if n++; n >= spikeWindow || (s[k].lnDepth-level)*off < leastTogether*sq(off) {
			return false
		}
	}
	return true
}

// bySignal tells what the signal says.
func bySignal(q sounding, inner []sounding, off float64) brink {
	var with []sounding
	for _, o := range inner {
		if o.signal > 0 {
			with = append(with, o)
		}
	}
	if !(q.signal > 0) || len(with) < fewestInner {
		return untested
	}
	product := func(o sounding) float64 { return math.Log(o.signal) + o.lnDepth }
	level := middleOf(with, product)
	scatter := make([]float64, len(with))
	for k, o := range with {
		scatter[k] = math.Abs(product(o) - level)
	}
	part := 1 - (product(q)-level)/off
	if part > leastHeard && part < mostHeard && math.Abs(off) > ranked.FarMADs*median(scatter) {
		return supported
	}
	return contrary
}

func depthOf(o sounding) float64 { return o.lnDepth }

func middleOf(s []sounding, of func(sounding) float64) float64 {
	v := make([]float64, len(s))
	for k, o := range s {
		v[k] = of(o)
	}
	return median(v)
}
