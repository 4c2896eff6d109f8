package bleed

import (
	"math"
	"slices"
)

// columns are the readings as the detector wants them: logarithms, robust
// noise, outliers weakened. Unusable values have a variance of `nothing`.
type columns struct {
	rd    []Reading
	depth []float64 // running median of depth over ±15 readings, for scale
	gapM  float64

	lnD, lnS []float64 // log of depth, and of the signal at the lower antenna
	null     []float64
	varD     []float64
	varS     []float64
	covDS    []float64
	varN     []float64

	hasD, hasS, hasN bool
	sigmaN           float64 // null noise at the median depth
	airCoupled       []bool
	bend             bends
	course           courses
}

// nothing is the variance of a value that is not there.
const nothing = 1e8

// defaultDepthM scales a trace without depth. Judgement, no source.
const defaultDepthM = 1

// defaultGapM stands in for an antenna gap that nobody stated; signatures
// depend on it weakly. Common practice, no source.
const defaultGapM = 0.4

func newColumns(line Line) *columns {
	n := len(line.Readings)
	c := &columns{rd: line.Readings, gapM: line.AntennaGapM, airCoupled: make([]bool, n)}
	if !(c.gapM > 0) {
		c.gapM = defaultGapM
	}
	for _, p := range []*[]float64{&c.depth, &c.lnD, &c.lnS, &c.null, &c.varD, &c.varS, &c.covDS, &c.varN} {
		*p = make([]float64, n)
	}
	expected := typicalDepth(c.rd)
	for k, r := range c.rd {
		c.airCoupled[k] = c.throughAir(line, r, expected)
		c.lnD[k] = logOf(r.DepthM)
		c.lnS[k] = logOf(signalOf(r))
		c.null[k] = r.NullOffsetM
		if c.airCoupled[k] {
			c.lnD[k], c.lnS[k], c.null[k] = math.NaN(), math.NaN(), math.NaN()
		}
	}
	c.scaleDepth()
	c.straighten(line)
	c.estimateNoise()
	c.distrustBends()
	c.course = newCourses(line, c)
	return c
}

// throughAir reports whether a reading near an induction transmitter is of no
// use, or shows its field plainly.
func (c *columns) throughAir(line Line, r Reading, expectedM float64) bool {
	if r.Hookup != "induction" {
		return AirCoupled(r.SignalLow, r.SignalHigh, line.AntennaGapM, r.DepthM, math.NaN())
	}
	if line.Transmitter != nil && r.Pos.Dist(*line.Transmitter) < transmitterReachM(line.PowerW) {
		return true
	}
	return AirCoupled(r.SignalLow, r.SignalHigh, line.AntennaGapM, r.DepthM, expectedM)
}

func logOf(v float64) float64 {
	if v > 0 {
		return math.Log(v)
	}
	return math.NaN()
}

// signalOf is the field at the lower antenna on any scale that is the same
// along the trace: as read, or current over depth.
func signalOf(r Reading) float64 {
	switch {
	case r.SignalLow > 0:
		return r.SignalLow
	case r.Signal > 0:
		return r.Signal
	}
	return r.CurrentMA / r.DepthM
}

func (c *columns) scaleDepth() {
	var buf []float64
	for k := range c.rd {
		buf = buf[:0]
		for i := max(0, k-15); i <= min(len(c.rd)-1, k+15); i++ {
			if !math.IsNaN(c.lnD[i]) {
				buf = append(buf, c.lnD[i])
			}
		}
		c.depth[k] = defaultDepthM
		if len(buf) > 0 {
			c.depth[k] = math.Exp(median(buf))
		}
	}
}

// straighten takes the pull of the line's own bends out of the columns.
func (c *columns) straighten(line Line) {
	c.bend = newBends(line, c)
	for k := range c.rd {
		c.lnD[k] -= c.bend.lnD[k]
		c.lnS[k] -= c.bend.lnS[k]
		c.null[k] -= c.bend.null[k]
	}
}

// distrustBends widens the variance where bends pull.
func (c *columns) distrustBends() {
	for k := range c.rd {
		sharp := c.bend.turn[k] / (math.Pi / 2)
		add := func(v *float64, effect, corner float64) {
			e := bendTrust*effect + corner*sharp
			*v += e * e
		}
		add(&c.varD[k], c.bend.lnD[k], 0.1)
		add(&c.varS[k], c.bend.lnS[k], 0.1)
		add(&c.varN[k], c.bend.null[k], 0.1*c.depth[k])
	}
}

// estimateNoise takes the variances and the covariance of log depth and log
// signal from second differences, and the null's from first differences, all
// by the median absolute deviation: a smooth line cancels in them.
func (c *columns) estimateNoise() {
	sum := make([]float64, len(c.rd))
	for k := range sum {
		sum[k] = c.lnD[k] + c.lnS[k]
	}
	d, s, i := secondSigma(c.lnD), secondSigma(c.lnS), secondSigma(sum)
	c.hasD, c.hasS = count(c.lnD) >= 3, count(c.lnS) >= 3
	d, s = orFloor(d, 0.045, 0.015), orFloor(s, 0.05, 0.008)
	cov := 0.0
	if !math.IsNaN(i) {
		cov = max(-0.95*d*s, min(0.95*d*s, (i*i-d*d-s*s)/2))
	}
	rel := make([]float64, len(c.rd))
	for k := range rel {
		rel[k] = c.null[k] / c.nullScale(k)
	}
	c.hasN = count(c.null) >= 3
	c.sigmaN = orFloor(firstSigma(rel), 0.05, 0.02)
	farD, farS, farN := outliers(c.lnD), outliers(c.lnS), outliers(rel)
	for k := range c.rd {
		n := c.sigmaN * c.nullScale(k)
		c.varD[k], c.varS[k], c.covDS[k], c.varN[k] = d*d, s*s, cov, n*n
		if far := farD[k]; far > 0 {
			c.varD[k] = max(25*c.varD[k], far*far)
			c.covDS[k] = 0
		}
		if far := farS[k]; far > 0 {
			c.varS[k] = max(25*c.varS[k], far*far)
			c.covDS[k] = 0
		}
		if far := farN[k] * c.nullScale(k); far > 0 {
			c.varN[k] = max(9*c.varN[k], far*far)
		}
		c.lnD[k], c.varD[k] = absent(c.lnD[k], c.varD[k])
		c.lnS[k], c.varS[k] = absent(c.lnS[k], c.varS[k])
		c.null[k], c.varN[k] = absent(c.null[k], c.varN[k])
	}
}

// leaveOut takes the readings of jumps out of the columns: they are of another
// line.
func (c *columns) leaveOut(jumped []Stretch) {
	for _, s := range jumped {
		for k, r := range c.rd {
			if r.StationM >= s.FromM && r.StationM <= s.ToM {
				c.lnD[k], c.varD[k] = 0, nothing
				c.lnS[k], c.varS[k] = 0, nothing
				c.null[k], c.varN[k] = 0, nothing
				c.covDS[k] = 0
			}
		}
	}
}

// nullScale lets the null's noise grow with depth: a deeper line has a flatter
// zero. Common practice, no source.
func (c *columns) nullScale(k int) float64 {
	d := c.depth[k]
	return math.Sqrt(0.5 + 0.5*d*d)
}

func absent(v, variance float64) (float64, float64) {
	if math.IsNaN(v) {
		return 0, nothing
	}
	return v, variance
}

func orFloor(v, missing, floor float64) float64 {
	if math.IsNaN(v) {
		return missing
	}
	return max(v, floor)
}

func count(v []float64) (n int) {
	for _, x := range v {
		if !math.IsNaN(x) {
			n++
		}
	}
	return n
}

// secondSigma is a robust standard deviation from v[k-1] − 2v[k] + v[k+1].
func secondSigma(v []float64) float64 {
	var d []float64
	for k := 1; k+1 < len(v); k++ {
		if x := v[k-1] - 2*v[k] + v[k+1]; !math.IsNaN(x) {
			d = append(d, math.Abs(x))
		}
	}
	if len(d) < 5 {
		return math.NaN()
	}
	return madFactor * median(d) / math.Sqrt(6)
}

// firstSigma is a robust standard deviation from v[k] − v[k-1].
func firstSigma(v []float64) float64 {
	var d []float64
	for k := 1; k < len(v); k++ {
		if x := v[k] - v[k-1]; !math.IsNaN(x) {
			d = append(d, math.Abs(x))
		}
	}
	if len(d) < 5 {
		return math.NaN()
	}
	return madFactor * median(d) / math.Sqrt2
}

// madFactor turns a median absolute deviation into a normal sigma.
const madFactor = 1.4826

// outliers returns how far values lie from the median of seven where that is
// more than 3.5 MAD, else 0.
func outliers(v []float64) []float64 {
	res := make([]float64, len(v))
	var buf []float64
	for k := range v {
		buf = buf[:0]
		for i := max(0, k-3); i <= min(len(v)-1, k+3); i++ {
			if !math.IsNaN(v[i]) {
				buf = append(buf, v[i])
			}
		}
		res[k] = math.NaN()
		if len(buf) >= 4 {
			res[k] = math.Abs(v[k] - median(buf))
		}
	}
	buf = buf[:0]
	for _, r := range res {
		if !math.IsNaN(r) {
			buf = append(buf, r)
		}
	}
	out := make([]float64, len(v))
	if len(buf) < 7 {
		return out
	}
	limit := 3.5 * madFactor * median(buf)
	for k, r := range res {
		if r > limit {
			out[k] = r
		}
	}
	return out
}

// median sorts its argument. It must not be empty.
func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	if n%2 == 1 {
		return v[n/2]
	}
	return (v[n/2-1] + v[n/2]) / 2
}
