package locate

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"loamline/geo"
	"loamline/trace"
)

// What no line and no instrument gives throughout (common practice, no source).
const (
	leastJudged   = 3    // readings
	mostlyShare   = 0.75 // of them
	shallowestM   = 0.05 // from the ground to the centre of a line; a receiver's foot is as high
	leastMA       = 0.2  // a receiver reads hardly less
	mostMA        = 10000.0
	finestM       = 0.001 // of positions: no receiver states less
	coarseFixedM  = 0.5   // of an RTK fixed position: it is a hundredth of that and some
	restlessM     = 0.30  // between two null offsets of one line: far more than a hand's error
	overheadRatio = 1.1   // top antenna over bottom one: through the air they are alike
)

// implausible tells of columns whose figures no instrument gives in the unit of their
// header, or over a line in the ground.
func implausible(t trace.Trace, inputs []trace.Input, u geo.Units) []contradiction {
	var current, hAcc, hAccFixed, ratio, nulls []float64
	lastNull := trace.Unknown
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.CurrentMA > 0 {
			current = append(current, r.CurrentMA)
		}
		if r.HAccM > 0 {
			hAcc = append(hAcc, r.HAccM)
			if r.Fix == trace.FixRTK {
				hAccFixed = append(hAccFixed, r.HAccM)
			}
		}
		if r.SignalLow > 0 && r.SignalHigh > 0 {
			ratio = append(ratio, r.SignalHigh/r.SignalLow)
		}
	}
	for i := range t.Readings {
		if v := t.Readings[i].NullOffsetM; trace.Known(v) {
			if trace.Known(lastNull) {
				nulls = append(nulls, math.Abs(v-lastNull))
			}
			lastNull = v
		}
	}
	var out []contradiction
	tell := func(field, words, hint, check string) {
		first := &t.Readings[0]
		out = append(out, contradiction{problem: trace.Problem{File: inputs[first.File].Name, Row: int(first.Row), Field: field, Warn: true,
			Cause: fmt.Sprintf("line %q: %s", trace.Shorten(t.Name), words), Hint: hint, Check: check}})
	}
	if mA, ok := mostly(current, func(v float64) bool { return v < leastMA || v > mostMA }); ok {
		tell("current", fmt.Sprintf("the currents are mostly about %s mA, which is none of a traced line", figure(mA)),
			"check the unit of the column", "")
	}
	if _, ok := mostly(hAcc, func(v float64) bool { return v < finestM }); ok {
		tell("h_acc", "the accuracies of the positions are mostly less than 1 mm, which no receiver states",
			"check the unit of the column; the positions are taken as no better than their fix can be", "")
	}
	if m, ok := mostly(hAccFixed, func(v float64) bool { return v > coarseFixedM }); ok {
		tell("h_acc", fmt.Sprintf("the accuracies of RTK fixed positions are mostly about %s, which is that of no such fix", u.Short(m)),
			"check the unit of the column; the bands are as wide as it says", "")
	}
	if m, ok := mostly(nulls, func(v float64) bool { return v > restlessM }); ok {
		tell("null_offset", fmt.Sprintf("the null offsets change mostly by %s from one reading to the next, as over no line", u.Short(m)),
			"check the unit of the column; peak and null tell little here", "")
	}
	if q, ok := mostly(ratio, func(v float64) bool { return v > overheadRatio }); ok {
		tell("signal_low", fmt.Sprintf("the top antenna hears mostly %.2f times what the bottom one does, as over no line in the ground", q),
			"check whether signal_low and signal_high are swapped", fmt.Sprintf("%s: the top antenna hears mostly %.2f times what the bottom one does, as over no line in the ground: the two columns may be swapped, or what was heard is above the ground. Find out before digging.", t.Name, q))
	}
	return out
}

// figure words a current with as many digits as say something.
func figure(mA float64) string {
	if mA < 10 {
		return strconv.FormatFloat(mA, 'f', 2, 64)
	}
	return strconv.FormatFloat(mA, 'f', 0, 64)
}

// mostly is the median of figures, and reports whether most of them are of a kind.
func mostly(vs []float64, of func(float64) bool) (median float64, ok bool) {
	n := 0
	for _, v := range vs {
		if of(v) {
			n++
		}
	}
	if len(vs) < leastJudged || float64(n) < mostlyShare*float64(len(vs)) {
		return 0, false
	}
	slices.Sort(vs)
	return vs[len(vs)/2], true
}

// shallowThroughout leaves out the depths of a line that are nearly all less than any
// line lies deep, as metres under a header of inches are.
func shallowThroughout(rs []*trace.Reading, inputs []trace.Input, u geo.Units) []contradiction {
	var read []*trace.Reading
	var depths []float64
	for _, r := range rs {
		if r.DepthM > 0 && !r.Exposed && !(r.RaiseM > 0) {
			read, depths = append(read, r), append(depths, r.DepthM)
		}
	}
	m, ok := mostly(depths, func(v float64) bool { return v < shallowestM })
	if !ok {
		return nil
	}
	words := fmt.Sprintf("the depths are mostly about %s, less than any line lies deep", u.Fine(m))
	found := depthsContradict(read[0], inputs, words, "check the unit of the depth column",
		", as if they were in another unit, and were left out. Find out before digging.")
	found[0].problem.Hint = "check the unit of the depth column; the depths are left out, and the positions are used"
	for _, r := range read {
		r.DropDepth("depth is less than any line lies deep (%.3f m)", r.DepthM)
		r.DepthM = trace.Unknown
	}
	return found
}
