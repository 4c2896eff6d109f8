package fit

import "math"

// curve is a function of the station: a level, effects such as steps of the
// level, and what wanders about them, averaged over how far and how fast it
// wanders, each by its restricted likelihood (Patterson and Thompson 1971,
// Biometrika 58:545) with the noise variance profiled out.
type curve struct {
	first, hM float64
	value     []float64 // at the nodes
	variance  []float64 // of the value, with the noise variance in
	noise     float64   // variance at weight 1
	score     float64   // -2 ln of the averaged restricted likelihood
	size      []float64 // of each regressor
}

// curveData is what a curve goes through, by station, with weights. The prior
// noise variance is at weight 1.
type curveData struct {
	n             int
	point         func(i int) (station, y, wt float64)
	priorVariance float64
	regressors    []regressor
}

// regressor is something of unknown size with a known course along the line. Its
// size has a normal prior about 0 with the spread sd.
type regressor struct {
	shown func(stationM float64) float64 // by the readings
	drawn func(stationM float64) float64 // by the curve, nil where it is without
	sd    float64
}

// Prior of the noise variance at weight 1: a scaled inverse chi-square with few
// degrees of freedom, so that three readings don't pretend to know it. Judgement.
const priorDegrees = 3.0

// A line's depth wanders about its level by some 2 % over some 10 m, for ground
// and trench are never quite even, and by more where it goes up and down:
// medians and spreads of ln (judged; no source).
const (
	usualWander       = 0.025
	usualWanderSpread = 1.0
	usualReachM       = 10.0
	usualReachSpread  = 0.8
)

// What is averaged over: the spread of the wandering, and the distance over
// which it is forgotten, in metres: grids over what the prior above allows, a factor of two
// to three apart. Judgement.
var (
	wanderSDs = [...]float64{0.004, 0.009, 0.018, 0.035, 0.07, 0.15, 0.4}
	reaches   = [...]float64{4, 9, 20, 60}
)

// negligible is the -2 ln of a share that is left out of averages: less than
// a ninetieth of the largest. Judgement: time.
const negligible = 9

// wandering is a stationary process on even nodes: an autoregression of the
// second order with a double root, which is Matérn's process of smoothness 3/2
// seen at those nodes (Rasmussen and Williams 2006, Gaussian Processes for
// Machine Learning, appendix B).
type wandering struct{ sd, reachM float64 }

// fitCurve fits data sorted by station on nodes hM apart.
func fitCurve(d curveData, first, last, hM float64) curve {
	c, f := newCurve(d, first, last, hM)
	n := f.n
	c.value, c.variance = make([]float64, n), make([]float64, n)
	c.size = make([]float64, f.p)
	var total float64
	c.score, total = f.average(reaches[:], wanderSDs[:], c.fade, func(share float64) { f.addTo(&c, share) })
	c.fade(1 / total)
	for k := range c.value {
		c.variance[k] = math.Max(0, c.variance[k]-sq(c.value[k]))
		c.value[k] += f.mean
	}
	return c
}

// curveScore is the score alone of such a curve, over the ways to wander that are tried beside steps.
func curveScore(d curveData, first, last, hM float64) float64 {
	_, f := newCurve(d, first, last, hM)
	score, _ := f.average(stepReaches[:], stepWanders[:], func(float64) {}, func(float64) {})
	return score
}

// newCurve lays the nodes of a curve and prepares its fit.
func newCurve(d curveData, first, last, hM float64) (curve, *curveFit) {
	n := max(4, int(math.Ceil((last-first)/hM))+1)
	c := curve{first: first, hM: math.Max((last-first)/float64(n-1), 1e-6)}
	return c, newCurveFit(d, &c, n)
}

// average solves for each way of wandering. It hands each share, to within their
// total, to add, and to fade what all shares so far are to be scaled by.
func (f *curveFit) average(reaches, wanderSDs []float64, fade, add func(float64)) (score, total float64) {
	best := math.Inf(1)
	for _, reach := range reaches {
		for _, sd := range wanderSDs {
			l := f.solve(wandering{sd, reach})
			l += sq(math.Log(sd/usualWander)/usualWanderSpread) + sq(math.Log(reach/usualReachM)/usualReachSpread)
			if l > best+negligible {
				continue
			}
			if l < best { // what there is fades against the new best
				by := 0.0
				if total > 0 {
					by = math.Exp(-0.5 * (best - l))
				}
				fade(by)
				total *= by
				best = l
			}
			p := math.Exp(-0.5 * (l - best))
			total += p
			add(p)
		}
	}
	return best - 2*math.Log(total), total
}

// fade scales what has been averaged so far.
func (c *curve) fade(by float64) {
	c.noise *= by
	for k := range c.value {
		c.value[k] *= by
		c.variance[k] *= by
	}
	for j := range c.size {
		c.size[j] *= by
	}
}

// locate is the node before a station and how far on to the next one it is, of n nodes.
func locate(s, first, hM float64, n int) (int, float64) {
	at := clamp((s-first)/hM, 0, float64(n-1))
	k := min(int(at), n-2)
	return k, at - float64(k)
}

// at returns the value and its variance at a station.
func (c *curve) at(s float64) (value, variance float64) {
	k, u := locate(s, c.first, c.hM, len(c.value))
	return (1-u)*c.value[k] + u*c.value[k+1], (1-u)*c.variance[k] + u*c.variance[k+1]
}
