package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// columns are the readings as the detector wants them: logarithms, robust
// noise, outliers weakened. Unusable values have a variance of `nothing`.
type columns struct {
	rd    []reading
	walk  []int     // of rd, in travel order; along the line where the rows are no walk
	depth []float64 // running median of depth over ±scaleReadings, for scale
	gapM  float64
	teesM []float64 // where a branch that was traced leaves the line

	lnD, lnS []float64 // log of depth, and of the signal at the lower antenna
	null     []float64
	varD     []float64
	varS     []float64
	covDS    []float64
	varN     []float64
	lnI      []float64 // log of the current where nothing else was read that it could be held against

	hasD, hasS, hasN bool
	sigmaN           float64 // null noise at the median depth
	airCoupled       []bool
	bend             bends
	wholeField       bool         // the receiver took the whole field: nulls are halved
	fieldAcross      bool         // it surely did not
	leadNull         [2][]float64 // what a lead at either end may do to the null, one sigma
	round            rounding
	course           courses
	shapes           *shapes
}

// scaleReadings is over how many readings to each side a depth is taken for scale: more
// than a stretch that coupling falsifies mostly has, fewer than over which lines keep
// their depth. Judgement.
const scaleReadings = 15

// nothing is the variance of a value that is not there: a bound of the arithmetic.
const nothing = 1e8

func newColumns(line Line) *columns {
	n := len(line.rd)
	c := &columns{rd: line.rd, walk: walkOf(line), gapM: line.AntennaGapM, teesM: line.TeesM, airCoupled: make([]bool, n), shapes: &shapes{}}
	if !(c.gapM > 0) {
		c.gapM = receiver.UsualGapM // signatures depend on it weakly
	}
	for _, p := range []*[]float64{&c.depth, &c.lnD, &c.lnS, &c.null, &c.varD, &c.varS, &c.covDS, &c.varN} {
		*p = make([]float64, n)
	}
	if n == 0 {
		return c // every place was exposed, raised or set aside: nothing to test
	}
	air := throughAir(c.rd, line.AntennaGapM)
	full := fullScale(c.rd)
	var byAntennas []bool
	c.lnD, byAntennas = depthLogs(c.rd, line.AntennaGapM, full)
	c.lnS = signalLogs(c.rd, full)
	c.lnI = currentsAlone(c.rd)
	for k, r := range c.rd {
		c.airCoupled[k] = air[k] || nearInduction(line, r)
		c.null[k] = r.NullOffsetM
		if c.airCoupled[k] {
			c.lnD[k], c.lnS[k], c.null[k] = math.NaN(), math.NaN(), math.NaN()
		}
	}
	c.levelSetups()
	c.scaleDepth()
	c.round = newRounding(c.rd, c.gapM, byAntennas)
	c.straighten(line)
	c.estimateNoise()
	c.distrustBends()
	c.leadNull = c.leadEffect()
	c.blurNulls()
	c.course = newCourses(line, c)
	return c
}

// nearInduction reports whether a reading is so near to an induction transmitter
// that its own field makes it no use.
func nearInduction(line Line, r reading) bool {
	return r.Hookup == trace.HookupInduction && line.Transmitter != nil && r.Pos.Dist(*line.Transmitter) < receiver.TransmitterReachM(line.PowerW)
}

func logOf(v float64) float64 {
	if v > 0 {
		return math.Log(v)
	}
	return math.NaN()
}

// signalOf is the field at the lower antenna on any scale that is the same
// along the trace: as read, or current over depth.
func signalOf(r reading) float64 {
	if s := signalShown(r); s > 0 {
		return s
	}
	return r.CurrentMA / r.DepthM
}

// signalShown is the signal as read, of the lower antenna where both were read; not a number
// or no more than 0 where none was.
func signalShown(r reading) float64 {
	if r.SignalLow > 0 {
		return r.SignalLow
	}
	return r.Signal
}

// currentsAlone are the logs of currents that come without any depth and signal: a receiver
// has reckoned both in, so that over one line, at whatever depth, they stay. None where there
// is a depth or a signal anywhere on the line.
func currentsAlone(rds []reading) []float64 {
	lnI := make([]float64, len(rds))
	any := false
	for k, r := range rds {
		if signalRead(r) || r.DepthM > 0 {
			return nil
		}
		lnI[k] = logOf(r.CurrentMA)
		any = any || !math.IsNaN(lnI[k])
	}
	if !any {
		return nil
	}
	return lnI
}

func (c *columns) scaleDepth() {
	for k, about := range ranked.About(c.lnD, scaleReadings) {
		c.depth[k] = receiver.UsualDepthM
		if len(about) > 0 {
			c.depth[k] = math.Exp(halfway(about))
		}
	}
}

// straighten takes the pull of the line's own bends out of the columns.
func (c *columns) straighten(line Line) {
	c.bend = newBends(line, c)
	c.wholeField, c.fieldAcross = c.takesWholeField()
	for k := range c.rd {
		c.null[k] /= c.nullTimes()
		c.lnD[k] -= c.bend.lnD[k]
		c.lnS[k] -= c.bend.lnS[k]
		c.null[k] -= c.bend.null[k]
	}
}

// cornerLeft is what a square corner may leave in the log of depth and of signal, and in
// the null in depths, one sigma, whatever its pull is reckoned to: where exactly it lies,
// and how sharp it is, is not known. Judgement.
const cornerLeft = 0.1

// distrustBends widens the variance where bends pull.
func (c *columns) distrustBends() {
	for k := range c.rd {
		sharp := c.bend.turn[k] / (math.Pi / 2)
		add := func(v *float64, effect, corner float64) {
			e := bendTrust*effect + corner*sharp
			*v += e * e
		}
		add(&c.varD[k], c.bend.lnD[k], cornerLeft)
		add(&c.varS[k], c.bend.lnS[k], cornerLeft)
		add(&c.varN[k], c.bend.null[k], cornerLeft*c.depth[k])
	}
}

// without are the columns less the readings of jumps: they are of another line.
func (c *columns) without(jumped []Stretch) *columns {
	if len(jumped) == 0 {
		return c
	}
	left := *c
	left.shapes = &shapes{}
	for _, v := range []*[]float64{&left.lnD, &left.varD, &left.lnS, &left.varS, &left.null, &left.varN, &left.covDS} {
		*v = slices.Clone(*v)
	}
	for _, s := range jumped {
		for k, r := range left.rd {
			if r.StationM >= s.FromM && r.StationM <= s.ToM {
				left.lnD[k], left.varD[k] = 0, nothing
				left.lnS[k], left.varS[k] = 0, nothing
				left.null[k], left.varN[k] = 0, nothing
				left.covDS[k] = 0
			}
		}
	}
	return &left
}

func absent(v, variance float64) (float64, float64) {
	if math.IsNaN(v) {
		return 0, nothing
	}
	return v, variance
}
