package clean

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Depths that change their unit on the way (judged; no source).
const (
	unitWindow = 5    // depths on either side of a change, at most
	leastEven  = 3    // and at least
	unitAlike  = 0.15 // how far they may scatter about their median, relative
	unitClose  = 0.10 // how close the step must come to a ratio of units, at most
	unitSure   = 0.03 // and at least, where the depths scatter so little
	unitErrors = 2.5  // else by so many errors of the step: a ratio hit by chance is missed by more
	fieldShare = 0.5  // of the change, in logs, that current and signal show between them
	fieldAlone = 0.25 // and that either shows where the other was not read
	aroundM    = 0.12 // by how much a null or a mark steps aside that goes with the field,
	aroundSure = 4.0  // by so many of its errors
	goesOnRad  = 0.35 // and what a course may turn there to be one that goes on beside itself
)

// unitRatios are those of the units that depths are written in: derived from their
// definitions.
var unitRatios = []struct {
	ratio       float64
	unit, other string
}{
	{1 / geo.FootM, "metres", "feet"}, {100, "metres", "centimetres"}, {12, "feet", "inches"},
	{1 / geo.InchM, "metres", "inches"}, {2.54, "inches", "centimetres"}, {30.48, "feet", "centimetres"},
}

// unitChanges finds a place where the depths of a line change by the ratio of two
// units from one reading to the next and are even before and after: somebody changed
// the display. On a ramp they are even about their trend. A line that steps down by just that much is possible, and only
// somebody who looks can tell.
func unitChanges(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var read []*trace.Reading
	for _, r := range rs {
		if onGround(r) {
			read = append(read, r)
		}
	}
	for k := leastEven; k+leastEven <= len(read); k++ {
		from, to, before, after, ok := levelsAbout(read, k)
		if !ok {
			continue
		}
		by := math.Log(after / before)
		for _, unit := range unitRatios {
			off := math.Abs(math.Abs(by) - math.Log(unit.ratio))
			if off > mostClose || off > closeEnough(from, to) || ofTheField(from, to, by) || stepsBeside(from, to) {
				continue
			}
			return depthsContradict(read[k], inputs, remark.UnitChanged{BeforeM: before, AfterM: after, Row: read[k].Row, Unit: unit.unit, Other: unit.other},
				"if the display's unit was changed on the way, bring the depths to one unit")
		}
	}
	return nil
}

// levelsAbout are the readings on either side of the k-th, and the depths that they come to
// there: their trend where they surely have one, else their medians, over a few rows where
// no more are even.
func levelsAbout(read []*trace.Reading, k int) (from, to []*trace.Reading, before, after float64, ok bool) {
	for _, way := range []struct {
		of     func(rs []*trace.Reading, k int) (float64, bool)
		window int
	}{{carriedOn, unitWindow}, {even, unitWindow}, {even, leastEven}} {
		from, to = read[max(0, k-way.window):k], read[k:min(len(read), k+way.window)]
		var okB, okA bool
		before, okB = way.of(from, len(from))
		after, okA = way.of(to, 0)
		if okB && okA {
			return from, to, before, after, true
		}
	}
	return nil, nil, 0, 0, false
}

// closeEnough is how close to a ratio of units a step between some depths and others must
// come, in logs: steps of two to four times are made by fittings and by another line's
// signal too, and each of them is within a tenth of some ratio.
func closeEnough(from, to []*trace.Reading) float64 {
	v := 0.0
	for _, side := range [][]*trace.Reading{from, to} {
		s := scatterFromNext(shownBy(side))
		v += s * s / float64(len(side))
	}
	return math.Max(unitSure, math.Min(math.Log1p(unitClose), unitErrors*math.Sqrt(v)))
}

// mostClose is the most that closeEnough comes to, whatever the depths are.
var mostClose = math.Max(unitSure, math.Log1p(unitClose))

func shownBy(rs []*trace.Reading) []float64 {
	d := make([]float64, len(rs))
	for i, r := range rs {
		d[i] = r.DepthM
	}
	return d
}

// ofTheField says whether current or signal changed together with the depths, as neither
// does when only the display's unit is changed. A receiver makes the current of signal times
// depth (Ampère's law, package receiver), so that of what it measured the current changes by
// as much more than the signal as the depth does, whichever line it is over, and by as much
// as the signal where the display alone does or somebody turns the gain. Where one of both was
// not read: over a nearer conductor that the signal bled onto there is less current, and
// over a line that goes down the signal falls as the depth grows.
func ofTheField(from, to []*trace.Reading, lnDepths float64) bool {
	moved := func(of func(r *trace.Reading) float64) float64 {
		lnOf := func(rs []*trace.Reading) float64 {
			var ln []float64
			for _, r := range rs {
				if v := of(r); v > 0 && !math.IsInf(v, 0) {
					ln = append(ln, math.Log(v))
				}
			}
			return medianOfAtLeast(ln, leastEven)
		}
		return (lnOf(to) - lnOf(from)) / lnDepths // unknown where one side is: no more than anything
	}
	current := moved(func(r *trace.Reading) float64 { return r.CurrentMA })
	signals := []float64{moved(func(r *trace.Reading) float64 { return r.Signal }), moved(func(r *trace.Reading) float64 { return r.SignalLow })}
	for _, s := range signals {
		if current-s > fieldShare || math.IsNaN(current) && s < -fieldAlone {
			return true
		}
	}
	return math.IsNaN(signals[0]) && math.IsNaN(signals[1]) && math.Abs(current) > fieldAlone
}

// stepsBeside says whether the nulls, or the marks themselves, step aside where the depths
// change: a display does neither, and a receiver that goes over to another line does.
func stepsBeside(from, to []*trace.Reading) bool {
	null := func(rs []*trace.Reading) (out []float64) {
		for _, r := range rs {
			if trace.Known(r.NullOffsetM) {
				out = append(out, r.NullOffsetM)
			}
		}
		return out
	}
	if apart(null(from), null(to)) {
		return true
	}
	along := func(rs []*trace.Reading) geo.XY { return rs[len(rs)-1].Pos.Sub(rs[0].Pos) }
	a, b := along(from), along(to)
	if a.Norm() == 0 || b.Norm() == 0 || math.Abs(math.Atan2(a.Cross(b), a.Dot(b))) > goesOnRad {
		return false
	}
	dir := a.Scale(1 / a.Norm()).Add(b.Scale(1 / b.Norm()))
	dir = dir.Scale(1 / dir.Norm())
	aside := func(rs []*trace.Reading) (out []float64) {
		for _, r := range rs {
			out = append(out, dir.Cross(r.Pos.Sub(from[0].Pos)))
		}
		return out
	}
	return apart(aside(from), aside(to))
}

// apart says whether some lengths and others are surely on two levels.
func apart(a, b []float64) bool {
	if len(a) < leastEven || len(b) < leastEven {
		return false
	}
	meanA, sdA := stat.MeanStdDev(a, nil)
	meanB, sdB := stat.MeanStdDev(b, nil)
	errA, errB := stat.StdErr(sdA, float64(len(a))), stat.StdErr(sdB, float64(len(b)))
	return math.Abs(meanA-meanB) > math.Max(aroundM, aroundSure*math.Hypot(errA, errB))
}

// even is the median of depths; false where they scatter much.
func even(rs []*trace.Reading, _ int) (median float64, ok bool) {
	d := shownBy(rs)
	slices.Sort(d)
	m := d[len(d)/2]
	return m, d[0] > m*(1-unitAlike) && d[len(d)-1] < m*(1+unitAlike)
}

// Depths on a ramp (judgement): so many tell its trend, and so much it may change from one to
// the next, in logs.
const (
	leastTrend = 4
	mostTrend  = 0.2
	sureTrend  = 2.5 // of its errors
)

// carriedOn is the trend of depths half a stride before the k-th of them; false where they
// have none, scatter about it, or are too few to tell.
func carriedOn(rs []*trace.Reading, k int) (depthM float64, ok bool) {
	if len(rs) < leastTrend {
		return 0, false
	}
	// Least squares of ln(depth) on the place in the row.
	n, mid, mean, cov, spread := float64(len(rs)), float64(len(rs)-1)/2, 0.0, 0.0, 0.0
	for i, r := range rs {
		ln, x := math.Log(r.DepthM), float64(i)-mid
		mean, cov, spread = mean+ln/n, cov+x*ln, spread+x*x
	}
	slope := cov / spread
	for i, r := range rs {
		if math.Abs(math.Log(r.DepthM)-mean-slope*(float64(i)-mid)) > unitAlike {
			return 0, false
		}
	}
	left := 0.0 // of the scatter
	for i, r := range rs {
		off := math.Log(r.DepthM) - mean - slope*(float64(i)-mid)
		left += off * off / (n - 2)
	}
	return math.Exp(mean + slope*(float64(k)-0.5-mid)), math.Abs(slope) <= mostTrend && math.Abs(slope) > sureTrend*math.Sqrt(left/spread)
}

// Depths against the antennas that they come from (judgement, but for the distance).
const (
	leastCompared = 8
	antennaRatio  = 1.3  // between the distance that the depths suppose and the stated one
	antennaLowM   = 0.15 // how high the bottom antenna may be carried
	// A part of a line stands out by so much, and by so many times what single readings
	// scatter, at each of so many neighbours.
	leastInPart      = 3
	antennaPartRatio = 1.2
	antennaSigmas    = 3.0
	antennaSwayM     = 0.2 // and by how much more than the receiver is carried higher and lower
	coarseSignals    = 0.1 // a step of the display, of the difference of both signals
)

// againstAntennas finds a line whose depths and signals suppose antennas at another
// distance than the job states, or closer together or farther apart than any receiver
// has them: the unit of the depths, the distance or the columns of the signals are
// wrong, and only somebody who knows the receiver can tell which. At a given ratio of
// the signals the depth is as the distance, so that one stands for the other.
func againstAntennas(t trace.Trace, statedGapM float64, inputs []trace.Input) []Contradiction {
	supposedM := impliedGapM(t, leastCompared)
	if !trace.Known(supposedM) {
		return nil
	}
	var what trace.Remark
	factor := supposedM / receiver.UsualGapM
	if q := supposedM / statedGapM; !trace.Known(statedGapM) {
		if supposedM < receiver.LeastGapM || supposedM > receiver.MostGapM {
			what = remark.AntennasImplied{ApartM: supposedM, Deeper: supposedM < receiver.LeastGapM}
		}
	} else if d := medianOfAtLeast(shownOf(t), 1); (q > antennaRatio || q < 1/antennaRatio) && math.Abs(d-d/q) > antennaLowM {
		factor = q
		what = remark.DepthsAgainstAntennas{Times: q, GapM: statedGapM}
	}
	at := &t.Readings[0]
	if what == nil {
		if what, factor, at = againstAntennasInPart(t); what == nil {
			return nil
		}
	}
	found := depthsContradict(at, inputs, what, "check the unit of the depths, antenna_gap_m and the columns of the signals")
	found[0].DepthFactor = factor
	return found
}

// againstAntennasInPart finds neighbouring readings whose depths suppose antennas at
// another distance than those of the rest of the line do: a receiver's scale, mode or unit
// was changed on the way, its display lagged, was smoothed or held, or the depths stand in
// other rows than the signals. A depth that the antennas give wrongly, over two lines or
// close to a transmitter, is shown as wrongly and contradicts nothing.
func againstAntennasInPart(t trace.Trace) (what trace.Remark, factor float64, at *trace.Reading) {
	display, rs := displayOf(t), inTravelOrder(t)
	var of []*trace.Reading
	var gaps, depths []float64
	for _, r := range rs {
		coarse := display.step > coarseSignals*(r.SignalLow-r.SignalHigh)
		if g := receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM); r.SignalLow < display.fullScale && !coarse && g > 0 && !math.IsInf(g, 0) && !(r.RaiseM > 0) && !r.Exposed {
			of, gaps, depths = append(of, r), append(gaps, g), append(depths, r.DepthM)
		}
	}
	if len(gaps) < 2*leastCompared {
		return nil, 0, nil
	}
	all, swayM := middleOfHalf(gaps), antennaSwayM+receiver.DepthStep(depths)/2 // derived: a figure stands for all within its step
	least := math.Max(antennaPartRatio, math.Exp(antennaSigmas*scatterFromNext(gaps)))
	most, first := 1.0, 0
	for k := 0; k+leastInPart <= len(of); k++ {
		// The one of a few that stands out least, to either side.
		part := gaps[k : k+leastInPart]
		low, high := slices.Min(part)/all, slices.Max(part)/all
		q := math.Max(low, 1)
		if high < 1 {
			q = high
		}
		times := math.Max(q, 1/q)
		d := of[k+leastInPart/2].DepthM
		if times <= math.Max(least, most) || math.Abs(d-d/q) <= swayM {
			continue
		}
		most, factor, first = times, q, k
	}
	if factor == 0 {
		return nil, 0, nil
	}
	apart := func(g float64) bool { return math.Max(g/all, all/g) > least && (g > all) == (factor > 1) }
	from, to := first, first+leastInPart
	for from > 0 && apart(gaps[from-1]) {
		from--
	}
	for to < len(of) && apart(gaps[to]) {
		to++
	}
	return remark.DepthsAgainstAntennasInPart{Times: most, FromRow: of[from].Row, ToRow: of[to-1].Row}, factor, of[from]
}

// middleOfHalf is the median of the half of all values that lie closest together (the
// shorth of Andrews et al., Robust Estimates of Location, 1972): of two levels it is one,
// where the median of all is neither.
func middleOfHalf(of []float64) float64 {
	v := slices.Sorted(slices.Values(of))
	half, at := max(1, len(v)/2), 0
	for k := range len(v) - half + 1 {
		if v[k+half-1]-v[k] < v[at+half-1]-v[at] {
			at = k
		}
	}
	return v[at+half/2]
}

// scatterFromNext is the scatter of what one reading after another says, in logs, told by
// the differences of neighbours: what lasts over several of them adds none.
func scatterFromNext(of []float64) float64 {
	var steps []float64
	for k := 1; k < len(of); k++ {
		steps = append(steps, math.Abs(math.Log(of[k]/of[k-1])))
	}
	return ranked.NormalSigma * medianOfAtLeast(steps, 1) / math.Sqrt2
}

// shownOf are the depths of a trace as they are shown.
func shownOf(t trace.Trace) []float64 {
	var out []float64
	for i := range t.Readings {
		if r := &t.Readings[i]; r.DepthM > 0 && !(r.RaiseM > 0) {
			out = append(out, r.DepthM)
		}
	}
	return out
}

// depthsContradict tells of depths of a line that contradict themselves or what they
// come from, with a problem that points at a row, and under what to check before
// digging. They are used all the same: nobody but who read them knows better.
func depthsContradict(r *trace.Reading, inputs []trace.Input, what trace.Remark, hint string) []Contradiction {
	return []Contradiction{{
		Problem: trace.Problem{File: inputs[r.File].Name, Row: int(r.Row), Field: "depth", Warn: true,
			Remark: remark.Contradicted{Line: r.Line, What: what}, Hint: hint + "; the depths are used as they stand"},
		Advice: WholeLine(r.Line, what),
		Depths: true,
	}}
}
