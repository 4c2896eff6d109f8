package fit

import (
	"math"

	"loamline/geo"
)

// noiseModel is one guess at the position noise of a walk: a first-order
// Gauss-Markov part and a white part that share the prior sigma times a
// factor, and the pinpointing error across the line (Gelb 1974, Applied Optimal
// Estimation).
type noiseModel struct {
	factor float64 // on the prior sigma
	share  float64 // of the variance that is correlated in time
	tauS   float64 // time constant
	pinM   float64
	weight float64 // posterior probability
}

// noisePosterior is the noise models with their probabilities, and the means
// that the fit's weights come from.
type noisePosterior struct {
	models []noiseModel
	mean   noiseModel
}

var (
	shareGrid = []float64{0.1, 0.3, 0.5, 0.7, 0.9}
	tauGrid   = []float64{12, 30, 75, 190, 500, 1500}
	pinGrid   = []float64{0.3, 0.6, 1, 1.7, 3} // times the floor, before the factor
)

// residual is a used reading's offset from the fit, in walking order.
type residual struct {
	e, sigma, clock float64
	normal          geo.XY
	run             int32
	station         float64
}

// maxNoiseReadings bounds the readings from which the noise is learnt.
const maxNoiseReadings = 1200

// learnNoise weighs the grid of noise models by the restricted likelihood of
// the residuals (Patterson and Thompson 1971, Biometrika 58:545): the degrees
// of freedom that the fit has used up are projected out.
func (w *walk) learnNoise(sh *shape) noisePosterior {
	res := w.residuals(sh)
	basis := designColumns(res, sh)
	if len(res) < len(basis)+1 {
		basis = nil
	}
	var out noisePosterior
	best := math.Inf(1)
	w.eachNoise(res, basis, func(m noiseModel, l float64) {
		m.weight = -0.5 * l
		out.models = append(out.models, m)
		best = math.Min(best, l)
	})
	out.normalize(-0.5 * best)
	return out
}

// factorSteps is the number of factors tried, from factorLow to factorHigh.
const (
	factorSteps           = 26
	factorLow, factorHigh = 0.35, 8.0
)

// eachNoise offers every noise model of the grid with -2 ln of its posterior.
// The factor scales every part of the noise, so that one pass over the
// residuals serves all factors.
func (w *walk) eachNoise(res []residual, basis [][]float64, offer func(noiseModel, float64)) {
	med := w.priorScale()
	pins := pinGrid
	if w.floorM < 0.15*med {
		pins = []float64{1}
	}
	for _, pin := range pins {
		for _, share := range shareGrid {
			for _, tau := range tauGrid {
				m := noiseModel{share: share, tauS: tau, pinM: pin * w.floorM}
				q, logDets, free := restrictedSums(res, basis, m)
				for k := 0; k < factorSteps; k++ {
					m.factor = factorLow * math.Pow(factorHigh/factorLow, float64(k)/float64(factorSteps-1))
					m.pinM = pin * w.floorM * m.factor
					prior := -0.5*sq(math.Log(m.pinM/w.floorM)/0.6) - 0.5*sq(math.Log(m.tauS/120)/1.1) + w.lnPrior(m.factor)
					offer(m, q/sq(m.factor)+2*float64(free)*math.Log(m.factor)+logDets-2*prior)
				}
			}
		}
	}
}

func sq(x float64) float64 { return x * x }

// normalize turns log weights into probabilities, drops the negligible and
// takes the means.
func (n *noisePosterior) normalize(best float64) {
	sum := 0.0
	kept := n.models[:0]
	for _, m := range n.models {
		if m.weight < best-9 {
			continue
		}
		m.weight = math.Exp(m.weight - best)
		sum += m.weight
		kept = append(kept, m)
	}
	n.models = kept
	for i := range kept {
		wt := kept[i].weight / sum
		kept[i].weight = wt
		n.mean.factor += wt * kept[i].factor * kept[i].factor
		n.mean.share += wt * kept[i].share
		n.mean.tauS += wt * math.Log(kept[i].tauS)
		n.mean.pinM += wt * kept[i].pinM * kept[i].pinM
	}
	n.mean.factor, n.mean.pinM = math.Sqrt(n.mean.factor), math.Sqrt(n.mean.pinM)
	n.mean.tauS, n.mean.weight = math.Exp(n.mean.tauS), 1
}

// residuals collects what the noise is learnt from.
func (w *walk) residuals(sh *shape) []residual {
	var out []residual
	for i := range w.obs {
		o := &w.obs[i]
		if o.fate != Used || o.piece < 0 || o.exposed {
			continue
		}
		d := sh.line.Direction(o.stationM)
		out = append(out, residual{o.offsetM, o.sigmaM, o.clockS, geo.XY{X: d.Y, Y: -d.X}, o.piece, o.stationM})
	}
	if len(out) > maxNoiseReadings {
		from := (len(out) - maxNoiseReadings) / 2
		out = out[from : from+maxNoiseReadings]
	}
	return out
}

// designColumns spans what each run could absorb: Legendre polynomials in the
// station, as many as the run has degrees of freedom, twelve at most.
func designColumns(res []residual, sh *shape) [][]float64 {
	var out [][]float64
	for id := range sh.runs {
		lo, hi, n := math.Inf(1), math.Inf(-1), 0
		for _, r := range res {
			if int(r.run) == id {
				lo, hi, n = math.Min(lo, r.station), math.Max(hi, r.station), n+1
			}
		}
		if n == 0 {
			continue
		}
		cols := min(int(math.Round(sh.runs[id].edf)), 12, n)
		if len(out)+cols > 30 {
			break
		}
		for c := 0; c < cols; c++ {
			col := make([]float64, len(res))
			for i, r := range res {
				if int(r.run) == id {
					x := 0.0
					if hi > lo {
						x = 2*(r.station-lo)/(hi-lo) - 1
					}
					col[i] = legendre(c, x)
				}
			}
			out = append(out, col)
		}
	}
	return out
}

// legendre is the Legendre polynomial of degree n (Bonnet's recursion).
func legendre(n int, x float64) float64 {
	p0, p1 := 1.0, x
	if n == 0 {
		return 1
	}
	for k := 1; k < n; k++ {
		p0, p1 = p1, (float64(2*k+1)*x*p1-float64(k)*p0)/float64(k+1)
	}
	return p1
}

// restrictedSums gives what -2 ln of the restricted likelihood of the residuals
// is made of, at factor 1: the quadratic form with the columns projected out,
// the logarithms of the determinants, and the degrees of freedom left. The
// innovations of the scalar Gauss-Markov state serve all columns at once.
func restrictedSums(res []residual, basis [][]float64, m noiseModel) (q, logDets float64, free int) {
	p := len(basis)
	mean := make([]float64, p+1)
	cross := make([]float64, (p+1)*(p+1))
	v := make([]float64, p+1)
	varG, logDet := 0.0, 0.0
	for i := range res {
		r := &res[i]
		if i == 0 {
			varG = 1
		} else {
			phi := math.Exp(-math.Abs(r.clock-res[i-1].clock)/m.tauS) * math.Max(0, r.normal.Dot(res[i-1].normal))
			for c := range mean {
				mean[c] *= phi
			}
			varG = phi*phi*varG + 1 - phi*phi
		}
		h := r.sigma * math.Sqrt(m.share)
		s := h*h*varG + sq(r.sigma)*(1-m.share) + sq(m.pinM)
		logDet += math.Log(s)
		v[0] = r.e - h*mean[0]
		for c := 0; c < p; c++ {
			v[c+1] = basis[c][i] - h*mean[c+1]
		}
		gain := varG * h / s
		for a := range v {
			mean[a] += gain * v[a]
			for b := a; b < len(v); b++ {
				cross[a*(p+1)+b] += v[a] * v[b] / s
			}
		}
		varG -= gain * h * varG
	}
	q, ld := projectOut(cross, p+1)
	return q, logDet + ld, len(res) - p
}

// projectOut eliminates the columns 1… from the cross products and returns what
// is left of column 0, and ln of their determinant.
func projectOut(a []float64, n int) (rest, logDet float64) {
	for i := 0; i < n; i++ {
		for j := 0; j < i; j++ {
			a[i*n+j] = a[j*n+i]
		}
	}
	for k := n - 1; k >= 1; k-- {
		d := a[k*n+k]
		if !(d > 1e-12) {
			continue
		}
		logDet += math.Log(d)
		for i := 0; i < k; i++ {
			f := a[i*n+k] / d
			for j := 0; j < k; j++ {
				a[i*n+j] -= f * a[k*n+j]
			}
		}
	}
	return math.Max(0, a[0]), logDet
}
