package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/outandback"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// When readings set aside are a block, and how far one walk goes on. Judgement.
const (
	// blockLength neighbours set aside are a block, and so are readings that are
	// more than blockShare of a line (and at least two).
	blockLength = 3
	blockShare  = 0.05
	// togetherSigmas is by how many standard errors neighbours set aside inside the zone lie off
	// to one side together, each by eachSigmas and asideM at least.
	togetherSigmas, eachSigmas, asideM = 6.0, 3.0, 0.15
	// Where mostAside of a line was set aside, what is left may be the wrong ones.
	mostAside = 0.25
	// asScattered is how many times the scatter of neighbours a reading may lie off and
	// still lie as they do.
	asScattered = 2.0
	// legStrides of its readings show where the line goes on.
	legStrides = 2.0
	// apartM is how far the next reading may be and still belong to the walk.
	apartM = 60.0
)

// covered finds readings that no line stands for: blocks that were set aside, and
// readings at the ends of the walk without a line.
func (v *view) covered() []Breach {
	var walk []int // what was read over the line, in travel order
	aside := 0
	for _, i := range v.order {
		r := &v.Readings[i]
		if !r.Placed() || r.Status == trace.StatusCheck || r.Exposed || r.Repeated() {
			continue // a hole is no step of the walk: behind it the walk does not go on
		}
		walk = append(walk, i)
		if v.aside(i) {
			aside++
		}
	}
	runs := v.lostRuns(walk)
	agreed := map[int]bool{} // in runs of which there are too many to tell each
	pairs := 0
	for _, r := range runs {
		if r.agree {
			pairs++
			for _, i := range walk[r.from:r.to] {
				agreed[i] = true
			}
		}
	}
	if pairs <= reportedApart {
		clear(agreed)
	}
	var out []Breach
	known := 0
	reported := map[int]bool{}
	for _, r := range runs {
		atEnd := r.from == 0 || r.to == len(walk)
		if r.to-r.from >= blockLength || r.agree && pairs <= reportedApart || atEnd && v.undrawnEnd(walk, r.from, r.to) {
			out = append(out, v.block(walk, r.from, r.to))
			if !slices.ContainsFunc(walk[r.from:r.to], v.inZone) || r.to-r.from >= blockLength {
				known += r.to - r.from // a pair inside the zone does not answer for the others
			}
			for _, i := range walk[r.from:r.to] {
				reported[i] = true
			}
		}
	}
	out = append(out, v.unsettled(walk, reported)...)
	out = append(out, v.alone(walk, reported, agreed)...)
	// Blocks are told where they lie; so many that the rest proves nothing are told of the
	// whole line too.
	if rest, n := aside-known, float64(len(walk)); aside >= 2 && (float64(aside) > blockShare*n && rest > 0 || float64(aside) >= mostAside*n) {
		out = append(out, v.manyAside(walk, aside))
	}
	return out
}

// lostRun is a run of neighbours on the walk that no line stands for.
type lostRun struct {
	from, to int
	agree    bool // fewer than a block, and yet no chance
}

func (v *view) lostRuns(walk []int) (out []lostRun) {
	for k := 0; k < len(walk); {
		if !v.lost(walk[k]) {
			k++
			continue
		}
		from := k
		for k < len(walk) && v.lost(walk[k]) {
			k++
		}
		out = append(out, lostRun{from, k, k-from < blockLength && v.agree(walk[from:k])})
	}
	return out
}

// unsettled finds runs of neighbours of which each was set aside or lost its depth, some
// for one and some for the other: by itself each looks like a slip, together they are
// where the trace goes over to something else.
func (v *view) unsettled(walk []int, reported map[int]bool) []Breach {
	var out []Breach
	leapt := func(i int) bool {
		_, is := v.Readings[i].Reason.(remark.Outlier)
		return is && v.Readings[i].Status == trace.StatusSetAside
	}
	odd := func(i int) bool {
		r := &v.Readings[i]
		return !reported[i] && v.feet[i].part >= 0 && (leapt(i) || r.Status == trace.StatusUsed && r.DepthDropped && !noDepth(r))
	}
	for k := 0; k < len(walk); k++ {
		from, aside := k, 0
		lo, hi := math.Inf(1), math.Inf(-1)
		for k < len(walk) && odd(walk[k]) {
			if leapt(walk[k]) {
				aside++
			}
			lo, hi = math.Min(lo, v.feet[walk[k]].stationM), math.Max(hi, v.feet[walk[k]].stationM)
			k++
		}
		if n := k - from; n >= blockLength && aside > 0 && aside < n {
			b := Breach{Kind: Uncovered, Readings: n, FromM: lo, ToM: hi, Covered: true}
			b.Remark = remark.Unsettled{N: n, FromRow: v.Readings[walk[from]].Row, ToRow: v.Readings[walk[k-1]].Row, Aside: aside}
			out = append(out, b)
		}
	}
	return out
}

// noDepth reports a figure that no depth is, such as one in another unit: what the column
// has wrong from end to end says nothing of where the trace goes.
func noDepth(r *trace.Reading) bool {
	reasons, several := r.Reason.(trace.Several)
	if !several {
		reasons = trace.Several{r.Reason}
	}
	return slices.ContainsFunc(reasons, func(why trace.Remark) bool {
		switch why.(type) {
		case remark.NegativeDepth, remark.FillerDepth, remark.TooDeep, remark.TooShallow:
			return true
		}
		return why == remark.ZeroDepth
	})
}

// lost tells a reading that is set aside, or used and yet outside the zone.
func (v *view) lost(i int) bool {
	r := &v.Readings[i]
	return r.Status == trace.StatusSetAside || !v.inZone(i)
}

// agree reports whether neighbours that were set aside lie off to one side of the line, two or
// more: an error of one position is a single one, and on a branch, on a way round something
// or on another line they lie so whatever their fix. What the error of each allows it by
// itself says nothing, but of those off the zone.
func (v *view) agree(run []int) bool {
	first := v.feet[run[0]]
	together := 0.0
	return len(run) > 1 && !slices.ContainsFunc(run, func(i int) bool {
		f, z := v.feet[i], math.Abs(v.sigmas(i))
		together += z / math.Sqrt(float64(len(run)))
		return v.Readings[i].Status != trace.StatusSetAside || f.part < 0 || f.part != first.part || f.offsetM*first.offsetM <= 0 ||
			f.distM <= v.rule.HalfWidthM+f.bandM && (z < eachSigmas || f.distM < asideM) || v.declared(v.Readings[i].Pos)
	}) && (together > togetherSigmas || first.distM > v.rule.HalfWidthM+first.bandM)
}

// inZone reports whether a reading's place is in the zone of the line, or in one
// of its gaps or doubts.
func (v *view) inZone(i int) bool {
	f := v.feet[i]
	own := v.rule.OwnM(&v.Readings[i])
	if math.IsNaN(own) {
		own = 0
	}
	return f.part >= 0 && f.distM <= v.rule.HalfWidthM+math.Hypot(f.bandM, 2*own) || v.declared(v.Readings[i].Pos)
}

// declared reports whether a place lies on a gap or on a course that a finding
// keeps beside the line.
func (v *view) declared(at geo.XY) bool {
	return v.claims.Hold(at)
}

// undrawnEnd reports whether a run of readings at an end of the walk lies near the
// rest and outside the zone: the line should have gone on to there.
func (v *view) undrawnEnd(walk []int, from, to int) bool {
	var inner int
	switch {
	case to < len(walk):
		inner = walk[to]
	case from > 0:
		inner = walk[from-1]
	default:
		return false
	}
	for _, i := range walk[from:to] {
		if !v.inZone(i) && v.Readings[i].Pos.Dist(v.Readings[inner].Pos) <= apartM {
			return true
		}
	}
	return false
}

// block tells of neighbouring readings that the line does not stand for.
func (v *view) block(walk []int, from, to int) Breach {
	b := Breach{Kind: Uncovered, Readings: to - from, FromM: trace.Unknown, ToM: trace.Unknown, Covered: true}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, i := range walk[from:to] {
		b.Places = append(b.Places, v.Readings[i].Pos)
		if !v.inZone(i) {
			b.Covered = false
		}
		if f := v.feet[i]; f.part >= 0 {
			lo, hi = math.Min(lo, f.stationM), math.Max(hi, f.stationM)
		}
	}
	if lo <= hi {
		b.FromM, b.ToM = lo, hi
	}
	b.Walked = v.atUsualStep(walk, from) && v.atUsualStep(walk, to)
	b.Past = v.past(walk, from, to)
	b.Remark = remark.Block{N: to - from, FromRow: v.Readings[walk[from]].Row, ToRow: v.Readings[walk[to-1]].Row,
		Fates: v.fates(walk[from:to]), Undrawn: !b.Covered}
	return b
}

// past is the way past some readings: from the walk before them straight to where it goes on,
// or over the corner in which the line before and behind meets; at an end of the walk to its
// last place, for a fix that jumped is often right again there.
func (v *view) past(walk []int, from, to int) []geo.XY {
	first, last := walk[max(0, from-1)], walk[min(to, len(walk)-1)]
	before, after := v.Readings[first].Pos, v.Readings[last].Pos
	if from == 0 || to == len(walk) {
		return []geo.XY{before, after}
	}
	d := before.Dist(after)
	for k := from; k <= to && d > apartM; k++ {
		if v.Readings[walk[k-1]].Pos.Dist(v.Readings[walk[k]].Pos) > apartM {
			return nil
		}
	}
	if at, ok := outandback.Corner(v.leg(first, -1), v.leg(last, 1)); ok {
		return []geo.XY{before, at, after}
	}
	return []geo.XY{before, after}
}

// leg is the line as drawn at a reading, with a place that is legStrides of its readings off
// before, or behind.
func (v *view) leg(i int, side float64) [2]geo.XY {
	f := v.feet[i]
	p := v.parts[f.part]
	at := f.stationM - p.FromM()
	return [2]geo.XY{p.line.At(math.Max(0, math.Min(p.line.Length(), at+side*legStrides*v.spacing[f.part]))), p.line.At(at)}
}

// A step is no leap that is longer than the walk's median stride by what its strides
// spread to, stepSpreads sigma, but within leastSteps and mostSteps. Judgement.
const stepSpreads, leastSteps, mostSteps = 2.0, 1.4, 2.0

// atUsualStep reports whether the walk came to a place at its own stride, or begins
// or ends there.
func (v *view) atUsualStep(walk []int, k int) bool {
	if k == 0 || k == len(walk) {
		return true
	}
	if v.usualStepOf.of == nil || v.usualStepOf.of != &walk[0] || v.usualStepOf.n != len(walk) { // asked of every block of one walk
		v.usualStepOf.of, v.usualStepOf.n = &walk[0], len(walk)
		v.usualStepOf.medianM, v.usualStepOf.spread = v.usualStep(walk)
	}
	median, spread := v.usualStepOf.medianM, v.usualStepOf.spread
	most := math.Max(leastSteps, math.Min(math.Exp(stepSpreads*spread), mostSteps)) * median
	return v.Readings[walk[k]].Pos.Dist(v.Readings[walk[k-1]].Pos) <= most+3*v.ownM(walk[k])
}

// usualStep is the walk's median step from place to place, and one sigma of the steps'
// logarithm, robustly.
func (v *view) usualStep(walk []int) (medianM, spread float64) {
	var steps []float64
	for k := 1; k < len(walk); k++ {
		if d := v.Readings[walk[k]].Pos.Dist(v.Readings[walk[k-1]].Pos); d > 2*v.ownM(walk[k]) && d > 0 {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return 0, 0
	}
	medianM = ranked.Median(steps)
	for i, d := range steps {
		steps[i] = math.Abs(math.Log(d / medianM))
	}
	return medianM, ranked.NormalSigma * ranked.Median(steps)
}

// fates lists what became of each of a run of readings.
func (v *view) fates(run []int) remark.Fates {
	reasons := make(remark.Fates, len(run))
	for k, i := range run {
		if r := &v.Readings[i]; r.Status != trace.StatusUsed {
			reasons[k] = r.Reason
		}
	}
	return reasons
}

// aside tells a reading that was set aside and does not lie as the line's readings do: its
// own error does not explain it, or it is off by more than the zone's half-width and than
// its neighbours scatter, who share the most of that error.
func (v *view) aside(i int) bool {
	f := v.feet[i]
	return v.Readings[i].Status == trace.StatusSetAside &&
		(f.part < 0 || math.Abs(v.sigmas(i)) > singleLimit || f.distM > math.Max(v.rule.HalfWidthM, asScattered*v.whiteM))
}

// manyAside tells that many readings were set aside here and there.
func (v *view) manyAside(walk []int, aside int) Breach {
	b := Breach{Kind: Uncovered, Readings: aside, FromM: trace.Unknown, ToM: trace.Unknown, Covered: true}
	var which []int
	for _, i := range walk {
		if v.aside(i) {
			which = append(which, i)
			b.Places = append(b.Places, v.Readings[i].Pos)
		}
	}
	b.Remark = remark.ManyUnused{Unused: aside, Readings: len(walk), Fates: v.fates(which), Most: float64(aside) >= mostAside*float64(len(walk))}
	return b
}
