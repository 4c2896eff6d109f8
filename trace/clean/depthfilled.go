package clean

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Depths that were typed or filled in and not read (judgement, but for the chance).
const (
	leastSeries  = 6    // depths that step by the same amount from those before them
	leastPasted  = 8    // depths in the order of some before them
	leastTurns   = 4    // of which as many differ from the one before
	allAlike     = 20   // depths of a line that are all the same
	leastOther   = 2    // other depths, of which one at least shows a finer display
	alikeOverM   = 40.0 // and lie over so much of it that ground and line would show
	filledChance = 1e-4 // how seldom readings would make such a run anywhere
	// quietRel is the least that two depths read beside each other scatter, relative, one
	// sigma: a quarter of what receivers do on average.
	quietRel = receiver.DepthNoiseRel / 4
)

// filledDepths finds depths that follow from each other to the last digit: that are
// counted up or down by one amount, that repeat a block of earlier ones in its order, or
// are one figure all along a line.
func filledDepths(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var read []*trace.Reading
	for _, r := range rs {
		if counted(r) {
			read = append(read, r)
		}
	}
	if len(read) < 2*leastSeries {
		return nil
	}
	if from, n := depthSeries(read); n > 0 {
		at := read[from+n-1]
		return depthsContradict(at, inputs, remark.DepthsSeries{N: n, FromRow: read[from].Row, ToRow: at.Row}, "they seem to have been filled in")
	}
	if from, as, n := depthsPasted(read); n > 0 {
		at := read[from+n-1]
		return depthsContradict(at, inputs, remark.DepthsPasted{N: n, FromRow: read[from].Row, ToRow: at.Row, AsFromRow: read[as].Row}, "they seem to have been pasted in")
	}
	if last := read[len(read)-1]; len(read) >= allAlike && staysAt(read, depthShown) && wayOf(read) >= alikeOverM && !roundFigure(last.DepthM) {
		return depthsContradict(last, inputs, remark.DepthsAllAlike{N: len(read), DepthM: last.DepthM}, "the display was perhaps held, or one depth was typed for all")
	}
	return mostAlike(read, inputs)
}

// mostAlike finds one round figure that stands in nearly all rows of a line, one after the
// other, where the few others show that the display is a finer one: no coarse step
// explains it then.
func mostAlike(read []*trace.Reading, inputs []trace.Input) []Contradiction {
	runs := runsAlike(read)
	if len(runs) == 0 {
		return nil
	}
	run := runs[0]
	at, others, finer := run[len(run)-1], 0, 0
	all := make([]float64, len(read))
	for k, r := range read {
		if all[k] = r.DepthM; r.DepthM == at.DepthM {
			continue
		}
		if others++; !roundFigure(r.DepthM) {
			finer++
		}
	}
	coarse := receiver.DepthStep(all) > finerThanRel*at.DepthM // else it is told as a display that stands still
	if !coarse || finer == 0 || others < leastOther || len(run)+others < len(read) || len(run) < allAlike || wayOf(run) < alikeOverM {
		return nil
	}
	return depthsContradict(at, inputs, remark.DepthsFrozen{N: len(run), DepthM: at.DepthM, Row: at.Row}, "the display was perhaps held there")
}

// roundStepsM are what displays round depths to that scatter may hide in, in metres
// (common practice, no source: twentieths of a metre, inches and tenths of a foot; coarser
// steps lie on these or are finer figures of them), and whole feet in centimetres.
var roundStepsM = []float64{0.05, 0.0254, 0.03048}

// roundFigure reports whether a coarse display may show a depth again and again while
// the line does what lines do.
func roundFigure(depthM float64) bool {
	return slices.ContainsFunc(roundStepsM, func(stepM float64) bool { return receiver.OnDepthStep(depthM, stepM) }) || receiver.OnDepthStep(depthM, geo.FootM)
}

// wayOf is how far readings were walked.
func wayOf(rs []*trace.Reading) float64 {
	m := 0.0
	for k := 1; k < len(rs); k++ {
		m += rs[k].Pos.Dist(rs[k-1].Pos)
	}
	return m
}

// sameFigureM is by how little two differences of depths may differ that are written the
// same: a bound of the arithmetic.
const sameFigureM = 1e-9

// depthSeries is the longest run of depths each of which steps by the same amount, not
// zero, from the one before, where readings would hardly make it.
func depthSeries(read []*trace.Reading) (from, n int) {
	even := func(k int) bool {
		a, b := read[k-1].DepthM-read[k-2].DepthM, read[k].DepthM-read[k-1].DepthM
		return math.Abs(b) > sameFigureM && math.Abs(b-a) <= sameFigureM
	}
	evens, m := 0, 0 // all, and those in a row up to one
	for k := 2; k < len(read); k++ {
		if even(k) {
			evens, m = evens+1, m+1
		} else {
			m = 0
		}
		if m > n {
			from, n = k-m+1, m
		}
	}
	if n < leastSeries {
		return 0, 0
	}
	each := math.Max(byFigures(read, from, n), float64(evens-n+1)/float64(len(read)-n))
	if others := len(read) - 2 - n; others < leastCompared {
		each = byFigures(read, from, n)
	}
	if float64(len(read))*math.Pow(each, float64(n)) >= filledChance {
		return 0, 0
	}
	return from, n
}

// byFigures is how often a depth of a run would be the figure that was looked for, as the
// normal density has it at no difference, and 1 where the step of the figures hides that.
func byFigures(read []*trace.Reading, from, n int) float64 {
	all := make([]float64, len(read))
	for k, r := range read {
		all[k] = r.DepthM
	}
	// Of what was written to centimetres a series of some has a coarser step of its own.
	stepM, sigmaM := math.Min(finestStep(all), math.Max(receiver.DepthStep(all), finestDepthM)), math.Inf(1)
	rel := scatterRel(read, from, n)
	for _, r := range read[from : from+n] {
		sigmaM = math.Min(sigmaM, rel*r.DepthM)
	}
	if stepM = math.Max(stepM, finestDepthM); stepM > 1.5*sigmaM { // judgement: a step that hides no scatter
		return 1
	}
	return math.Min(1, stepM/(math.Sqrt(2*math.Pi)*sigmaM))
}

// scatterRel is by how much depths outside a run scatter about the way between their
// neighbours, relative, one sigma: no less than the quietest receivers do, and no more
// than usual ones, for a line that rises and falls seems to scatter by more.
func scatterRel(read []*trace.Reading, from, n int) float64 {
	var off []float64
	for k := 2; k < len(read); k++ {
		if k < from || k-2 >= from+n {
			off = append(off, math.Abs(read[k].DepthM-2*read[k-1].DepthM+read[k-2].DepthM)/read[k-1].DepthM)
		}
	}
	ownRel := ranked.NormalSigma * medianOfAtLeast(off, leastCompared) / math.Sqrt(6) // derived: of one of three, by 1, -2 and 1
	if !(ownRel > quietRel) {
		return quietRel
	}
	return math.Min(ownRel, receiver.DepthNoiseRel)
}

// finestDepthM is the finest that depths are written to. Judgement.
const finestDepthM = 0.001

// depthsPasted is the longest block of depths that are, one by one, those of an earlier
// block at other places, where the line's own steps would hardly make it. A block is
// looked for where its first few depths stood first, so that many readings take no longer
// than they are many.
func depthsPasted(read []*trace.Reading) (from, as, n int) {
	first := map[[leastPasted]float64]int{}
	matchedTo := 0
	for k := 0; k+leastPasted <= len(read); k++ {
		var window [leastPasted]float64
		turns := 0
		for i := range window {
			window[i] = read[k+i].DepthM
			if i > 0 && window[i] != window[i-1] {
				turns++
			}
		}
		if turns < leastTurns {
			continue
		}
		at, seen := first[window]
		if !seen {
			first[window] = k
			continue
		}
		if k < matchedTo || read[k].Pos.Dist(read[at].Pos) <= heldOverM {
			continue
		}
		m := 0
		for k+m < len(read) && at+m < k && read[k+m].DepthM == read[at+m].DepthM {
			m++
		}
		matchedTo = k + m
		if m > n {
			from, as, n = k, at, m
		}
	}
	if n < leastPasted {
		return 0, 0, 0
	}
	each := math.Max(alikeSteps(read), byFigures(read, from, n))
	if pairs := float64(len(read)) * float64(len(read)) / 2; pairs*math.Pow(each, float64(n)) >= filledChance { // derived: of blocks to begin in
		return 0, 0, 0
	}
	return from, as, n
}

// alikeSteps is how often two steps from a depth to the next are the same.
func alikeSteps(read []*trace.Reading) float64 {
	count := map[int64]int{}
	for k := 1; k < len(read); k++ {
		count[int64(math.Round((read[k].DepthM-read[k-1].DepthM)/sameFigureM))]++
	}
	alike := 0
	for _, c := range count {
		alike += c * c
	}
	return float64(alike) / float64(len(read)-1) / float64(len(read)-1)
}
