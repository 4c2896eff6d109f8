package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/leastsquares"
	"loamline.example/trace/ranked"
)

// steps is the log evidence of what depth and current do where the marks go
// over and where they come back. On another line both may step by any amount,
// the depth to what is known of that line's; on one line the current steps only
// at a tee and the depth seldom. What stepped must step back.
func (m meeting) steps(own carried, from, to int) float64 {
	c, mixed := m.col, m.mixed(own, from, to)
	var odds float64
	cur, dep := make([]levelStep, 0, 2), make([]levelStep, 0, 2)
	for _, edge := range []struct {
		at, out int
		clear   bool
	}{{from, -1, math.IsInf(own.fromM[0], 0)}, {to, 1, math.IsInf(own.toM[0], 0)}} {
		if edge.clear {
			continue
		}
		if s, ok := c.stepAt(edge.at, edge.out, from, to, mixed, c.currentOf); ok {
			cur = append(cur, s)
		}
		if s, ok := c.stepAt(edge.at, edge.out, from, to, mixed, c.depthOf); ok {
			dep = append(dep, s)
		}
	}
	odds += stepsOdds(cur, 0, jumpCurrentSD, currentStepSD, teePart, currentDrift)
	// Where fields mix, the depth read over the other line is wrong too.
	predicted, sd := m.expectedDepth(from, to, mixed)
	odds += logSum([]float64{
		math.Log(1-mixedPart) + stepsOdds(dep, predicted, sd, depthStepSD, depthStepPart, depthDrift),
		math.Log(mixedPart) + stepsOdds(dep, 0, jumpDepthSD, depthStepSD, depthStepPart, depthDrift)})
	return max(leastNats, min(mostStepNats, odds))
}

// The log current and depth of another line against the line's own, one sigma,
// and how often a line's own current or depth steps at a given place. Judgement.
const (
	jumpCurrentSD = 0.8
	jumpDepthSD   = 0.35
	teePart       = 0.1
	depthStepPart = 0.1
	mixedPart     = 0.3  // of jumps where both lines' signal is read throughout
	currentDrift  = 0.05 // of a level of log current between the two sides of a step, one sigma
	depthDrift    = 0.06 // of log depth
	mostStepNats  = 15   // that steps may say for a jump: their model may be wrong
)

// levelStep is a step of a level into a run, with its error.
type levelStep struct{ by, sigma float64 }

// stepsOdds compares steps into a run that are those into another line
// (predicted, with an error sd, the same at both ends) with steps that happen on
// one line: of size ownSD, at a part of all places; quiet is how a level drifts.
func stepsOdds(s []levelStep, predicted, sd, ownSD, part, quiet float64) (odds float64) {
	const same = 0.12 // by how much the levels before and after may differ. Judgement
	for i, x := range s {
		q := math.Hypot(x.sigma, quiet)
		odds -= math.Log((1-part)*normal(x.by, q) + part*normal(x.by, math.Hypot(q, ownSD)))
		if i == 0 {
			odds += math.Log(normal(x.by-predicted, math.Hypot(q, sd)))
			continue
		}
		// What the first step says of the second.
		v0 := s[0].sigma*s[0].sigma + quiet*quiet + same*same
		w := sd * sd / (sd*sd + v0)
		mean := predicted + w*(s[0].by-predicted)
		odds += math.Log(normal(x.by-mean, math.Sqrt(q*q+same*same+(1-w)*sd*sd)))
	}
	return odds
}

func normal(x, sigma float64) float64 {
	return math.Exp(-x*x/(2*sigma*sigma))/(sigma*math.Sqrt(2*math.Pi)) + 1e-9
}

// currentOf and depthOf are a reading's logarithms; false where it has none.
func (c *columns) currentOf(k int) (float64, bool) {
	switch {
	case c.varS[k] >= nothing:
		return 0, false
	case !c.hasD:
		return c.lnS[k], true
	case c.varD[k] >= nothing:
		return 0, false
	}
	return c.lnS[k] + c.lnD[k], true
}

func (c *columns) depthOf(k int) (float64, bool) { return c.lnD[k], c.varD[k] < nothing }

// Within mixedPastM before and after a run, and mixedWithinM of its ends, a reading nearer
// than bothShownDepths to the other line is taken to show both: its depth and signal are moved
// from farther off than its mark (mixedDepths). Judgement; for comparison, two
// lines of one depth and equal currents show one peak up to 2/√3 depths apart, 1.15.
const (
	mixedPastM      = 15
	mixedWithinM    = 12
	bothShownDepths = 1.2
)

// mixed tells the readings about the ends of a run in which the fields of both
// lines mix: they are near to both.
func (m meeting) mixed(own carried, from, to int) []bool {
	c := m.col
	out := make([]bool, len(c.rd))
	for k := range c.rd {
		if k < from || k > to {
			past := max(m.lengthM(k, from), m.lengthM(to, k))
			out[k] = past < mixedPastM && math.Abs(m.at[k].asideM) < bothShownDepths*c.depth[k]
			continue
		}
		off, _ := own.beside(c.rd[k].Pos)
		end := min(m.lengthM(from, k), m.lengthM(k, to))
		out[k] = math.Abs(off) < 0.5*c.depth[k] || end < mixedWithinM && math.Abs(off) < bothShownDepths*c.depth[k]
	}
	return out
}

// levelReadings is over how many readings on each side of a step its levels
// are taken. Judgement: more average noise away, and less of the line's own change.
const levelReadings = 10

// levelReachM is how far from a step its levels are taken at most, and besideMixed by how
// many readings more the depths on both sides are looked for, as those that mix are left
// out. Judgement.
const (
	levelReachM = 50
	besideMixed = 4
)

// stepAt fits a level on each side of an end of a run and one slope to both, in
// the readings that are not mixed, and returns the step into the run.
func (c *columns) stepAt(edge, out, from, to int, mixed []bool, value func(int) (float64, bool)) (levelStep, bool) {
	var t, y []float64
	var in []bool
	count := func(k, step int, inside bool) (n int) {
		for ; k >= 0 && k < len(c.rd) && n < levelReadings; k += step {
			if (k >= from && k <= to) != inside {
				break
			}
			if v, ok := value(k); ok && !mixed[k] && math.Abs(c.rd[k].StationM-c.rd[edge].StationM) < levelReachM {
				t, y, in, n = append(t, c.rd[k].StationM-c.rd[edge].StationM), append(y, v), append(in, inside), n+1
			}
		}
		return n
	}
	if count(edge+out, out, false) < 3 || count(edge, -out, true) < 3 {
		return levelStep{}, false
	}
	s, ok := fitStep(t, y, in)
	return s, ok
}

// levelNoise is the error of one log depth or current about its level, one sigma, by which
// the slope is held and within which no value lies far off; leastLevelNoise is the least
// that is taken for found. Judgement.
const (
	levelNoise      = 0.06
	leastLevelNoise = 0.02
)

// fitStep is least squares of two levels and one slope, again without what lies
// far off.
func fitStep(t, y []float64, in []bool) (levelStep, bool) {
	keep := slices.Repeat([]bool{true}, len(y))
	var s levelStep
	for range 3 {
		// Columns: inside, 1, t, none; the slope is held to what attenuation makes.
		rows, values := [][4]float64{{2: levelNoise / slopeSD}, {3: 1}}, []float64{0, 0}
		for i := range y {
			if keep[i] {
				row := [4]float64{0, 1, t[i]}
				if in[i] {
					row[0] = 1
				}
				rows, values = append(rows, row), append(values, y[i])
			}
		}
		fit, ok := leastsquares.FitFour(rows, values)
		if !ok {
			return s, false
		}
		res, abs := make([]float64, len(y)), []float64{}
		var sum float64
		for i := range y {
			res[i] = y[i] - fit.X[1] - fit.X[2]*t[i]
			if in[i] {
				res[i] -= fit.X[0]
			}
			if keep[i] {
				sum += res[i] * res[i]
				abs = append(abs, math.Abs(res[i]))
			}
		}
		noise := math.Sqrt(sum / math.Max(1, float64(len(abs)-3)))
		s = levelStep{fit.X[0], math.Max(noise, leastLevelNoise) * fit.Unit}
		limit := math.Max(levelNoise, ranked.FarMADs*ranked.NormalSigma*median(abs))
		for i := range keep {
			keep[i] = math.Abs(res[i]) < limit
		}
	}
	return s, true
}

// slopeSD is how steeply log current or depth runs along a line, one sigma, in
// nepers a metre. Judgement.
const slopeSD = 0.006

// expectedDepth is the step of log depth that a jump would show, from what is
// known of the neighbour's depth, with its error.
func (m meeting) expectedDepth(from, to int, mixed []bool) (step, sd float64) {
	c := m.col
	var known, own []float64
	for k := max(0, from-levelReadings-besideMixed); k < min(len(c.rd), to+levelReadings+besideMixed+1); k++ {
		switch {
		case mixed[k]:
		case k >= from && k <= to:
			if m.on[k].depthM > 0 && !math.IsInf(m.on[k].distM, 0) {
				known = append(known, math.Log(m.on[k].depthM))
			}
		case c.varD[k] < nothing:
			own = append(own, c.lnD[k])
		}
	}
	if len(known) < 3 || len(own) < 3 {
		return 0, jumpDepthSD
	}
	return median(known) - median(own), knownDepthSD
}

// knownDepthSD is how far the depth known of a neighbour may lie from what is
// read over it, and from the depth that a coupling to it has, one sigma of its
// logarithm. Judgement.
const knownDepthSD = 0.12
