package fit

import "math"

// curve is a smooth function of the station: a penalised spline on even nodes
// (Eilers and Marx 1996, Stat. Sci. 11:89), averaged over how much it may bend,
// each by its restricted likelihood with the noise variance profiled out.
type curve struct {
	first, hM float64
	value     []float64 // at the nodes
	variance  []float64 // of the value, with the noise variance in
	noise     float64   // variance at weight 1
	score     float64   // -2 ln of the best restricted likelihood
}

// curveData is what a curve goes through; breaks are stations at which it may
// jump.
type curveData struct {
	station, y, wt []float64
	breaks         []float64
}

// Prior of the noise variance at weight 1: a scaled inverse chi-square with few
// degrees of freedom, so that three readings don't pretend to know it.
const priorDegrees = 3.0

// A line's depth wanders by some 2 % over 20 m: ground and trench are never
// quite even. In decades of variance of the slope's change per metre, squared
// relative depth (judged; no source).
const (
	usualBend       = -4.9
	usualBendSpread = 0.8
)

// fitCurve fits data sorted by station. The prior noise variance is at weight 1.
func fitCurve(d curveData, first, last, hM, priorVariance float64) curve {
	n := max(4, int(math.Ceil((last-first)/hM))+1)
	c := curve{first: first, hM: math.Max((last-first)/float64(n-1), 1e-6)}
	mean, sum := 0.0, 0.0
	for i, y := range d.y {
		mean, sum = mean+d.wt[i]*y, sum+d.wt[i]
	}
	mean /= sum
	type try struct {
		value, variance []float64
		noise, l        float64
	}
	var tries []try
	best := math.Inf(1)
	for exp := -9.0; exp <= 0; exp++ {
		v, vr, noise, l := c.attempt(d, mean, n, math.Pow(10, exp), priorVariance)
		l += sq((exp - usualBend) / usualBendSpread)
		tries = append(tries, try{v, vr, noise, l})
		best = math.Min(best, l)
	}
	c.score = best
	c.value, c.variance = make([]float64, n), make([]float64, n)
	total := 0.0
	for _, t := range tries {
		total += math.Exp(-0.5 * (t.l - best))
	}
	for _, t := range tries {
		p := math.Exp(-0.5*(t.l-best)) / total
		c.noise += p * t.noise
		for k := range c.value {
			c.value[k] += p * t.value[k]
			c.variance[k] += p * (t.variance[k] + sq(t.value[k]))
		}
	}
	for k := range c.value {
		c.variance[k] = math.Max(0, c.variance[k]-sq(c.value[k]))
		c.value[k] += mean
	}
	return c
}

// attempt fits with one amount of bending, relative to the noise variance.
func (c *curve) attempt(d curveData, mean float64, n int, bend, priorVariance float64) (value, variance []float64, noise, l float64) {
	b := newBanded(n, 2)
	rhs := make([]float64, n)
	total, sum := priorDegrees*priorVariance, 0.0
	for i, s := range d.station {
		k, u := c.locate(s, n)
		v, w, y := 1-u, d.wt[i], d.y[i]-mean
		b.a[k*3] += w * v * v
		b.a[k*3+1] += w * u * v
		b.a[(k+1)*3] += w * u * u
		rhs[k] += w * v * y
		rhs[k+1] += w * u * y
		total += w * y * y
		sum += w
	}
	lambda := priorVariance / (bend * c.hM * c.hM * c.hM)
	rows := c.penalize(b, d.breaks, lambda)
	for k := 0; k < n; k++ { // where all data lie at one station
		b.a[k*3] += 1e-9 * sum / float64(n)
	}
	value = append([]float64(nil), rhs...)
	logDet := b.factor()
	b.solve(value)
	for k := range rhs {
		total -= rhs[k] * value[k]
	}
	free := float64(len(d.y)) + priorDegrees - float64(n-rows)
	noise = math.Max(total, 1e-12) / math.Max(free, priorDegrees)
	l = free*math.Log(noise) + logDet - float64(rows)*math.Log(lambda)
	z := b.inverseBand()
	variance = make([]float64, n)
	for k := range variance {
		variance[k] = noise * z[k*3]
	}
	return value, variance, noise, l
}

// penalize adds the squared second differences, but none across a break, and
// returns how many there are.
func (c *curve) penalize(b *banded, breaks []float64, lambda float64) (rows int) {
	coef := [3]float64{1, -2, 1}
	cut := make([]bool, b.n) // between node k and k+1
	for _, s := range breaks {
		k, _ := c.locate(s, b.n)
		cut[k] = true
	}
	for k := 1; k+1 < b.n; k++ {
		if cut[k-1] || cut[k] {
			continue
		}
		rows++
		for i := 0; i < 3; i++ {
			for j := i; j < 3; j++ {
				b.a[(k-1+i)*3+j-i] += lambda * coef[i] * coef[j]
			}
		}
	}
	return rows
}

func (c *curve) locate(s float64, n int) (int, float64) {
	at := clamp((s-c.first)/c.hM, 0, float64(n-1))
	k := min(int(at), n-2)
	return k, at - float64(k)
}

// at returns the value and its variance at a station.
func (c *curve) at(s float64) (value, variance float64) {
	k, u := c.locate(s, len(c.value))
	return (1-u)*c.value[k] + u*c.value[k+1], (1-u)*c.variance[k] + u*c.variance[k+1]
}
