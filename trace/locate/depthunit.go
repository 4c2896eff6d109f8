package locate

import (
	"fmt"
	"math"
	"slices"

	"loamline/geo"
	"loamline/trace"
	"loamline/trace/receiver"
)

// Depths that change their unit on the way.
const (
	unitWindow = 5    // depths on either side of a change
	unitAlike  = 0.15 // how far they may scatter about their median, relative
	unitClose  = 0.10 // how close the step must come to a ratio of units
)

// unitRatios are those of the units that depths are written in.
var unitRatios = []struct {
	ratio float64
	words string
}{
	{1 / geo.FootM, "metres and feet"}, {100, "metres and centimetres"}, {12, "feet and inches"},
	{1 / geo.InchM, "metres and inches"}, {2.54, "inches and centimetres"}, {30.48, "feet and centimetres"},
}

// unitChanges finds a place where the depths of a line change by the ratio of two
// units from one reading to the next and are even before and after: somebody changed
// the display. A line that steps down by just that much is possible, and only
// somebody who looks can tell.
func unitChanges(rs []*trace.Reading, inputs []trace.Input, u geo.Units) []contradiction {
	var read []*trace.Reading
	for _, r := range rs {
		if r.DepthM > 0 && !r.Exposed && !(r.RaiseM > 0) && !isFiller(r.DepthM) {
			read = append(read, r)
		}
	}
	for k := min(unitWindow, 3); k+3 <= len(read); k++ {
		before, okB := even(read[max(0, k-unitWindow):k])
		after, okA := even(read[k:min(len(read), k+unitWindow)])
		if !okB || !okA {
			continue
		}
		for _, unit := range unitRatios {
			if off := math.Abs(math.Log(after/before)) - math.Log(unit.ratio); math.Abs(off) > math.Log1p(unitClose) {
				continue
			}
			r := read[k]
			words := fmt.Sprintf("the depths change from %s to %s between two readings (line %d of the table), by the ratio of %s, and are even before and after", u.Short(before), u.Short(after), r.Row, unit.words)
			return []contradiction{{
				problem: trace.Problem{File: inputs[r.File].Name, Row: int(r.Row), Field: "depth", Warn: true,
					Cause: fmt.Sprintf("line %q: %s", trace.Shorten(r.Line), words),
					Hint:  "if the display's unit was changed on the way, bring the depths to one unit; they are used as they stand"},
				told: wholeLine(r.Line, words+": one side or the other may be in another unit. Find out which depths are right before digging."),
			}}
		}
	}
	return nil
}

// even is the median of depths that scatter little; false for too few of them.
func even(rs []*trace.Reading) (median float64, ok bool) {
	d := make([]float64, len(rs))
	for i, r := range rs {
		d[i] = r.DepthM
	}
	slices.Sort(d)
	if len(d) < 3 {
		return 0, false
	}
	m := d[len(d)/2]
	return m, d[0] > m*(1-unitAlike) && d[len(d)-1] < m*(1+unitAlike)
}

// Depths against the antennas that they come from.
const (
	leastCompared = 8
	antennaRatio  = 1.3  // between what is shown and what the antennas give
	antennaLowM   = 0.15 // how high the bottom antenna may be carried
	leastGapM     = 0.2  // of the antennas of a receiver (common practice, no source)
	mostGapM      = 1.0
)

// againstAntennas finds a line whose depths are all another than those that its two
// antennas give at the distance that the job states, or that suppose antennas closer
// together or farther apart than any receiver has: the unit of the depths, the
// distance or the columns of the signals are wrong, and only somebody who knows the
// receiver can tell which.
func againstAntennas(rs []*trace.Reading, statedGapM, fullScale float64, inputs []trace.Input, u geo.Units) []contradiction {
	var ratio, gap []float64
	var first *trace.Reading
	for _, r := range rs {
		if !(r.DepthM > 0) || r.Exposed || r.RaiseM > 0 || isFiller(r.DepthM) || !(r.SignalLow > r.SignalHigh) || !(r.SignalHigh > 0) || r.SignalLow >= fullScale {
			continue
		}
		if first == nil {
			first = r
		}
		gap = append(gap, receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM))
		if trace.Known(statedGapM) {
			d := receiver.TwoAntennaDepthM(r.SignalLow, r.SignalHigh, statedGapM)
			if off := math.Abs(d - r.DepthM); off <= antennaLowM {
				ratio = append(ratio, 1)
			} else {
				ratio = append(ratio, r.DepthM/d)
			}
		}
	}
	if len(gap) < leastCompared {
		return nil
	}
	words := ""
	if g := middle(gap); !trace.Known(statedGapM) && (g < leastGapM || g > mostGapM) {
		words = fmt.Sprintf("the depths and the two signals suppose antennas %s apart, which no receiver has", u.Short(g))
	} else if trace.Known(statedGapM) {
		if q := middle(ratio); q > antennaRatio || q < 1/antennaRatio {
			words = fmt.Sprintf("the depths shown are %.2f times those that the two antennas give, %s apart", q, u.Short(statedGapM))
		}
	}
	if words == "" {
		return nil
	}
	return []contradiction{{
		problem: trace.Problem{File: inputs[first.File].Name, Row: int(first.Row), Field: "depth", Warn: true,
			Cause: fmt.Sprintf("line %q: %s", trace.Shorten(first.Line), words),
			Hint:  "check the unit of the depths, antenna_gap_m and the columns of the signals; the depths are used as they stand"},
		told: wholeLine(first.Line, words+": the depths drawn may be wrong by that. Find out before digging."),
	}}
}

func middle(v []float64) float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	return v[len(v)/2]
}

// A display of depth at its end.
const (
	stuckReadings = 4
	leastEndM     = 2.0  // no display ends at less (common practice, no source)
	finerThanRel  = 0.02 // of the depth: what is written coarser repeats anyhow
	seldomAlike   = 0.25 // share of other neighbours that are the same figure
)

// depthAtItsEnd finds depths that stay at one figure, the largest of the line, over
// several neighbours, written finer than depths scatter: the display shows no more than
// that, and the line may lie deeper.
func depthAtItsEnd(rs []*trace.Reading, inputs []trace.Input, u geo.Units) []contradiction {
	var read []*trace.Reading
	var all []float64
	most := 0.0
	for _, r := range rs {
		if r.DepthM > 0 && r.DepthM <= receiver.DeepestM && !r.Exposed && !(r.RaiseM > 0) && !isFiller(r.DepthM) {
			read, all, most = append(read, r), append(all, r.DepthM), math.Max(most, r.DepthM)
		}
	}
	if step := receiver.DepthStep(all); len(read) < 2*stuckReadings || most < leastEndM || step > finerThanRel*most {
		return nil
	}
	alike, others := 0, 0
	for k := 1; k < len(read); k++ {
		if a, b := read[k-1].DepthM, read[k].DepthM; a != most || b != most {
			others++
			if a == b {
				alike++
			}
		}
	}
	if float64(alike) > seldomAlike*float64(others) {
		return nil
	}
	run, longest := 0, 0
	var at *trace.Reading
	for _, r := range read {
		if r.DepthM != most {
			run = 0
			continue
		}
		if run++; run > longest {
			longest, at = run, r
		}
	}
	if longest < stuckReadings || longest == len(read) {
		return nil
	}
	words := fmt.Sprintf("%d depths in a row are exactly %s, and none is more (up to line %d of the table), as if the display showed no more than that", longest, u.Short(most), at.Row)
	return []contradiction{{
		problem: trace.Problem{File: inputs[at.File].Name, Row: int(at.Row), Field: "depth", Warn: true,
			Cause: fmt.Sprintf("line %q: %s", trace.Shorten(at.Line), words), Hint: "the depths are used as they stand; the line may lie deeper there"},
		told: wholeLine(at.Line, words+". The line may lie deeper there: find out before digging."),
	}}
}
