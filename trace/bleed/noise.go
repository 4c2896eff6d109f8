package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

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
	cov := (i*i - d*d - s*s) / 2
	// What rounding makes of it is reckoned with by the figures shown.
	by := c.round.typical()
	cov -= by.ds
	d, s = sigmaWithout(d, by.dd), sigmaWithout(s, by.ss)
	d, s = orFloor(d, receiver.DepthNoiseRel, receiver.LeastDepthRel), orFloor(s, receiver.PlainSignalRel, receiver.LeastSignalRel)
	if math.IsNaN(cov) {
		cov = 0
	}
	cov = max(-mostCorrelation*d*s, min(mostCorrelation*d*s, cov))
	rel := make([]float64, len(c.rd))
	for k := range rel {
		rel[k] = c.null[k] / receiver.NullGrowth(c.depth[k])
	}
	c.hasN = count(c.null) >= 3
	c.sigmaN = orFloor(firstSigma(rel), receiver.PlainNullM, receiver.LeastNullM)
	farD, farS, farN := outliers(c.lnD), outliers(c.lnS), outliers(rel)
	grows := c.depthNoiseGrowth()
	for k := range c.rd {
		n := math.Max(c.sigmaN*receiver.NullGrowth(c.depth[k]), c.round.nullSDM())
		g := grows[k] * grows[k]
		c.varD[k], c.varS[k], c.covDS[k], c.varN[k] = g*d*d, s*s, grows[k]*cov, n*n
		if !signalRead(c.rd[k]) { // a current over the depth shown errs with it
			c.varS[k], c.covDS[k] = g*s*s, g*cov
		}
		if far := farD[k]; far > 0 {
			c.varD[k] = max(farVariance*c.varD[k], far*far)
			c.covDS[k] = 0
		}
		if far := farS[k]; far > 0 {
			c.varS[k] = max(farVariance*c.varS[k], far*far)
			c.covDS[k] = 0
		}
		if far := farN[k] * receiver.NullGrowth(c.depth[k]); far > 0 {
			c.varN[k] = max(farNullVariance*c.varN[k], far*far)
		}
		c.lnD[k], c.varD[k] = absent(c.lnD[k], c.varD[k])
		c.lnS[k], c.varS[k] = absent(c.lnS[k], c.varS[k])
		c.null[k], c.varN[k] = absent(c.null[k], c.varN[k])
	}
}

// depthNoiseGrowth is by what factor the error of a depth exceeds what is typical
// of the trace: that of the two antennas grows as (d + gap)/gap, which a part of
// the whole does not.
func (c *columns) depthNoiseGrowth() []float64 {
	local := c.localDepth(0, len(c.rd), 1)
	growth := make([]float64, len(local))
	for k, l := range local {
		growth[k] = receiver.RatioErrorGrowth(math.Exp(l), c.gapM)
	}
	typical := median(slices.Clone(growth))
	for k, g := range growth {
		growth[k] = math.Sqrt((1 + g*g/(typical*typical)) / 2)
	}
	return growth
}

// signalRead reports whether the signal of a reading is the field as read, not a
// current over a depth.
func signalRead(r reading) bool { return signalShown(r) > 0 }

// sigmaWithout is a sigma without a part of its variance.
func sigmaWithout(sigma, variance float64) float64 {
	if math.IsNaN(sigma) {
		return sigma
	}
	return math.Sqrt(max(0, sigma*sigma-variance))
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
	if len(d) < leastForMedian {
		return math.NaN()
	}
	return ranked.NormalSigma * median(d) / math.Sqrt(6) // derived, 1² + 2² + 1²: the variance of a second difference of white noise
}

// firstSigma is a robust standard deviation from v[k] − v[k-1].
func firstSigma(v []float64) float64 {
	var d []float64
	for k := 1; k < len(v); k++ {
		if x := v[k] - v[k-1]; !math.IsNaN(x) {
			d = append(d, math.Abs(x))
		}
	}
	if len(d) < leastForMedian {
		return math.NaN()
	}
	return ranked.NormalSigma * median(d) / math.Sqrt2
}

// leastForMedian is of how many values a median is taken for what is usual on a line:
// fewer may all be odd. Judgement.
const leastForMedian = 5

// leastForFar is how many values must lie beside others for the MAD of them all to tell
// which of them lie far off. Judgement.
const leastForFar = 7

// By what factor at least the variance of a value grows that lies far off: with five times
// the sigma, and for a null three times, it still says something where a run of them is no
// chance. Judgement.
const (
	farVariance     = 25
	farNullVariance = 9
)

// mostCorrelation is the most that the errors of depth and signal are taken to have in
// common: their covariance is to stay one, and the figure is judgement.
const mostCorrelation = 0.95

// outliers returns how far values lie from the median of seven where that is
// more than ranked.FarMADs, else 0.
func outliers(v []float64) []float64 {
	res := make([]float64, len(v))
	for k, about := range ranked.About(v, 3) {
		res[k] = math.NaN()
		if len(about) >= 4 {
			res[k] = math.Abs(v[k] - halfway(about))
		}
	}
	var buf []float64
	for _, r := range res {
		if !math.IsNaN(r) {
			buf = append(buf, r)
		}
	}
	out := make([]float64, len(v))
	if len(buf) < leastForFar {
		return out
	}
	limit := ranked.FarMADs * ranked.NormalSigma * median(buf)
	for k, r := range res {
		if r > limit {
			out[k] = r
		}
	}
	return out
}

// median changes the order of its argument. It must not be empty.
func median(v []float64) float64 { return ranked.Median(v) }

// halfway is the median of sorted values.
func halfway(v []float64) float64 {
	n := len(v)
	if n%2 == 1 {
		return v[n/2]
	}
	return (v[n/2-1] + v[n/2]) / 2
}
