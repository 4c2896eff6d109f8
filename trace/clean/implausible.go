package clean

import (
	"maps"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// What no line and no instrument gives throughout (common practice, no source).
const (
	leastJudged   = 3    // readings
	mostlyShare   = 0.75 // of them
	shallowestM   = 0.05 // from the ground to the centre of a line; a receiver's foot is as high
	leastMA       = 0.2  // a receiver reads hardly less
	mostMA        = 10000.0
	restlessM     = 0.30 // between two null offsets of one line: far more than a hand's error
	overheadRatio = 1.1  // top antenna over bottom one: through the air they are alike
)

// implausible tells of columns whose figures no instrument gives in the unit of their
// header, or over a line in the ground.
func implausible(t trace.Trace, gapM float64, inputs []trace.Input) []Contradiction {
	var currents, current, hAcc, hAccFixed, ratio, nulls []float64
	lastNull := trace.Unknown
	for i := range t.Readings {
		r := &t.Readings[i]
		if trace.Known(r.CurrentMA) {
			currents = append(currents, r.CurrentMA)
		}
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
	var out []Contradiction
	tell := func(field string, what trace.Remark, hint string) *trace.Problem {
		first := &t.Readings[0]
		out = append(out, Contradiction{Problem: trace.Problem{File: inputs[first.File].Name, Row: int(first.Row), Field: field, Warn: true,
			Remark: remark.Contradicted{Line: t.Name, What: what}, Hint: hint}})
		return &out[len(out)-1].Problem
	}
	if mA, ok := mostly(current, func(v float64) bool { return v < leastMA || v > mostMA }); ok {
		tell("current", remark.CurrentsOdd{AboutMA: mA}, checkUnit)
	}
	if _, ok := mostly(hAcc, func(v float64) bool { return v < receiver.FinestStatedM }); ok {
		tell("h_acc", remark.AccuraciesTooFine{}, checkUnit+takenAsFix)
	}
	if better, ok := betterThanFix(t); ok {
		tell("h_acc", better, takenAsStated).Check = remark.OnLine{Line: t.Name, StationM: trace.Unknown, What: better}
	}
	if m, ok := mostly(hAccFixed, func(v float64) bool { return v > receiver.CoarseFixedM }); ok {
		tell("h_acc", remark.AccuraciesOfNoFix{AboutM: m}, checkUnit+takenAsWide)
	}
	if m, ok := mostly(nulls, func(v float64) bool { return v > restlessM }); ok {
		tell("null_offset", remark.NullsRestless{ByM: m}, checkUnit+tellsLittle)
	}
	if v, ok := mostly(currents, func(v float64) bool { return v <= 0 }); ok {
		none := remark.CurrentsNone{Negative: v < 0}
		if p := tell("current", none, checkCurrents); none.Negative {
			p.Check = remark.OnLine{Line: t.Name, StationM: trace.Unknown, What: none}
		}
	}
	if n, of, shown := dropNullFillers(t); n > 0 {
		tell("null_offset", remark.NullFillers{N: n, Of: of, ShownM: shown}, leaveEmpty)
	}
	if !trace.Known(gapM) && len(ratio) >= leastGaps && withoutDepths(t) {
		lacks := remark.AntennasWithoutGap{}
		tell("antenna_gap_m", lacks, stateGap).Check = remark.OnLine{Line: t.Name, StationM: trace.Unknown, What: lacks}
	}
	if q, ok := mostly(ratio, func(v float64) bool { return v > overheadRatio }); ok {
		reversed := remark.AntennasReversed{Times: q}
		tell("signal_low", reversed, checkOrder).Check = remark.OnLine{Line: t.Name, StationM: trace.Unknown, What: reversed}
	}
	return out
}

// What to do about such a column.
const (
	checkUnit      = "check the unit of the column"
	takenAsFix     = "; the positions are taken as no better than their fix can be"
	takenAsStated  = "ask which service gave the corrections; the bands are as narrow as it says"
	takenAsWide    = "; the bands are as wide as it says"
	tellsLittle    = "; peak and null tell little here"
	checkDepthUnit = "check the unit of the depth column; the depths are left out, and the positions are used"
	checkOrder     = "check whether signal_low and signal_high are swapped"
	checkCurrents  = "check what the column holds; the rest of the rows is used"
	leaveEmpty     = "leave such cells empty"
	stateGap       = "state antenna_gap_m in the job file, and the depths are computed"
)

// dropNullFillers leaves out null offsets that stand for none: as figures they would say
// that the line jumps to and fro.
func dropNullFillers(t trace.Trace) (n, of int, shownM float64) {
	for i := range t.Readings {
		v := &t.Readings[i].NullOffsetM
		if !trace.Known(*v) {
			continue
		}
		of++
		if m := math.Abs(*v); isNone(m, leastNoNull) {
			n, shownM = n+1, m
			*v = trace.Unknown
		}
	}
	return n, of, shownM
}

// betterThanFix tells of accuracies stated for most readings that their fix seldom has.
func betterThanFix(t trace.Trace) (remark.AccuraciesOfBetterFix, bool) {
	fixes := map[trace.Fix]int{}
	for i := range t.Readings {
		fixes[t.Readings[i].Fix]++
	}
	for _, fix := range slices.Sorted(maps.Keys(fixes)) {
		if float64(fixes[fix]) < mostlyShare*float64(len(t.Readings)) {
			continue
		}
		var stated, hdops []float64
		for i := range t.Readings {
			if r := &t.Readings[i]; r.Fix == fix && receiver.Believed(r.HAccM, int(r.Fix), r.HDOP) {
				stated = append(stated, r.HAccM)
				if trace.Known(r.HDOP) {
					hdops = append(hdops, r.HDOP)
				}
			}
		}
		e, _ := receiver.Errors(int(fix), medianOfAtLeast(hdops, 1))
		if m, ok := mostly(stated, func(v float64) bool { return v < e.SeldomM }); ok {
			return remark.AccuraciesOfBetterFix{AboutM: m, SeldomM: e.SeldomM, Fix: int(fix), Shared95M: receiver.Radius95M(e.SharedM)}, true
		}
	}
	return remark.AccuraciesOfBetterFix{}, false
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
	return ranked.Median(vs), true
}

// shallowThroughout leaves out the depths of a line that are nearly all less than any
// line lies deep, as metres under a header of inches are.
func shallowThroughout(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var read []*trace.Reading
	var depths []float64
	for _, r := range rs {
		if onGround(r) {
			read, depths = append(read, r), append(depths, r.DepthM)
		}
	}
	m, ok := mostly(depths, func(v float64) bool { return v < shallowestM })
	if !ok {
		return nil
	}
	found := depthsContradict(read[0], inputs, remark.DepthsTooShallow{AboutM: m}, "")
	found[0].Problem.Hint = checkDepthUnit
	for _, r := range read {
		r.DropDepth(remark.TooShallow{DepthM: r.DepthM})
		r.DepthM = trace.Unknown
	}
	return found
}
