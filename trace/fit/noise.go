package fit

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
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

// noiseGrid is the choice of noise models: shares, time constants in seconds,
// and pinpointing errors in units of the floor, before the factor.
type noiseGrid struct{ share, tau, pin []float64 }

// A prototype study of the method had time constants from 12 to 4000 s and pinpointing up to
// 0.12 m. How fine the grids are is judgement: what is averaged over changes slowly.
var (
	fineNoise   = noiseGrid{[]float64{0.1, 0.3, 0.5, 0.7, 0.9, 0.97, 0.99}, tauGrid, []float64{0.3, 0.6, 1, 1.7, 3}}
	coarseNoise = noiseGrid{[]float64{0.3, 0.7}, []float64{30, 190}, []float64{0.6, 1.4}}
	tauGrid     = []float64{12, 30, 75, 190, 500, 1500}
)

// pinShowsFrom is the least share of a position's error from which on that of pinpointing
// is weighed too: less does not show beside it. Judgement.
const pinShowsFrom = 0.15

// residual is a used reading's offset from the fit, in walking order.
type residual struct {
	e, sigma, clock float64
	normal          geo.XY
	run             int32
	station         float64
	pull            pull
}

// maxNoiseReadings bounds the readings from which the noise is learnt. Judgement: time.
const maxNoiseReadings = 600

// learnNoise weighs the grid of noise models by the restricted likelihood of
// the residuals (Patterson and Thompson 1971, Biometrika 58:545): the degrees
// of freedom that the fit has used up are projected out.
func (w *walk) learnNoise(sh *shape, grid noiseGrid) noisePosterior {
	res := w.residuals(sh, maxNoiseReadings)
	basis := designColumns(res, sh)
	if len(res) < basis.count+1 {
		basis = design{}
	}
	var out noisePosterior
	best := math.Inf(1)
	w.eachNoise(res, basis, grid, func(m noiseModel, l float64) {
		best = math.Min(best, l)
		if m.weight = -0.5 * l; outweighed(m.weight, -0.5*best) { // it only gets better
			return
		}
		out.models = append(out.models, m)
	})
	out.normalize(-0.5 * best)
	return out
}

// factorSteps is the number of factors tried, from factorLow to factorHigh: where a
// fix by carrier phase is shown for one without, the error is thirty times as large. Judgement.
const (
	factorSteps           = 39
	factorLow, factorHigh = 0.35, 40.0
)

// factors are those tried, with their logarithms: derived from the bounds above.
var factors = func() (f [factorSteps]struct{ by, ln float64 }) {
	for k := range f {
		f[k].by = factorLow * math.Pow(factorHigh/factorLow, float64(k)/float64(factorSteps-1))
		f[k].ln = math.Log(f[k].by)
	}
	return f
}()

// eachNoise offers every noise model of the grid with -2 ln of its posterior.
// The factor scales every part of the noise, so that one pass over the
// residuals serves all factors.
func (w *walk) eachNoise(res []residual, basis design, grid noiseGrid, offer func(noiseModel, float64)) {
	med := w.scaleM
	pins := grid.pin
	if w.floorM < pinShowsFrom*med {
		pins = []float64{1}
	}
	lnPrior := w.lnPriors()
	lnPinPrior := make([][factorSteps]float64, len(pins))
	for i, pin := range pins {
		for k, f := range factors {
			lnPinPrior[i][k] = -0.5 * sq(math.Log(pin*w.floorM*f.by/w.floorM)/receiver.PinpointSpread)
		}
	}
	passes := basis.newInnovations(len(pins))
	phi := make([]float64, len(res))
	for _, tau := range grid.tau {
		carried(phi, res, tau)
		lnTauPrior := 0.5 * sq(math.Log(tau/receiver.UsualTauS)/receiver.TauSpread)
		for _, share := range grid.share {
			for i, pin := range pins {
				passes[i].under(noiseModel{share: share, tauS: tau, pinM: pin * w.floorM})
			}
			walkAll(passes, res, basis, phi)
			for i, pin := range pins {
				m := noiseModel{share: share, tauS: tau}
				q, logDets, free := passes[i].restricted(len(res), basis)
				for k, f := range factors {
					m.factor, m.pinM = f.by, pin*w.floorM*f.by
					prior := lnPinPrior[i][k] - lnTauPrior + lnPrior[k]
					offer(m, q/sq(f.by)+2*float64(free)*f.ln+logDets-2*prior)
				}
			}
		}
	}
}

// carried fills in what each residual carries on of the common part of the one before it, across
// the line as that turns: nothing of the first, which has none before it.
func carried(phi []float64, res []residual, tauS float64) {
	for i := 1; i < len(res); i++ {
		turned := math.Max(0, res[i].normal.Dot(res[i-1].normal))
		phi[i] = math.Exp(-math.Abs(res[i].clock-res[i-1].clock)/tauS) * turned
	}
}

func sq(x float64) float64 { return x * x }

// outweighed tells the log weight of a model that is less than a thousandth as
// likely as the best. Judgement: time.
func outweighed(weight, best float64) bool { return weight < best-7 }

// normalize turns log weights into probabilities, drops the outweighed and
// takes the means.
func (n *noisePosterior) normalize(best float64) {
	sum := 0.0
	kept := n.models[:0]
	for _, m := range n.models {
		if outweighed(m.weight, best) {
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

// residuals collects what the noise is learnt from: of a long walk the middle.
func (w *walk) residuals(sh *shape, most int) []residual {
	n := 0
	for i := range w.obs {
		if w.obs[i].tellsNoise() {
			n++
		}
	}
	skip := max(0, n-most) / 2
	out := make([]residual, 0, min(n, most))
	for i := 0; len(out) < cap(out); i++ {
		o := &w.obs[i]
		if !o.tellsNoise() {
			continue
		}
		if skip > 0 {
			skip--
			continue
		}
		d := sh.line.Direction(o.stationM)
		out = append(out, residual{o.offsetM, o.sigmaM, o.clockS, geo.XY{X: d.Y, Y: -d.X}, o.piece, o.stationM, o.pull})
	}
	return out
}

// tellsNoise reports whether a reading's offset is one from the run that it
// shapes, by the noise of the walk.
func (o *observation) tellsNoise() bool { return o.fate == Used && o.piece >= 0 && !o.exposed }

// design is what the runs could absorb: for each residual the values of its own
// run's columns, which start at a number of their own.
type design struct {
	row   [][]float64
	first []int
	count int
	sizes []int // by a run's first column: its columns and the residual, 0 elsewhere
}

// maxColumns bounds the columns of one run. Judgement: time.
const maxColumns = 12

// designColumns spans what each run could absorb: Legendre polynomials in the
// station, as many as the run has degrees of freedom, twelve at most.
func designColumns(res []residual, sh *shape) design {
	type stretch struct {
		lo, hi float64
		n      int
	}
	st := make([]stretch, len(sh.runs))
	for i := range st {
		st[i] = stretch{math.Inf(1), math.Inf(-1), 0}
	}
	for _, r := range res {
		s := &st[r.run]
		s.lo, s.hi, s.n = math.Min(s.lo, r.station), math.Max(s.hi, r.station), s.n+1
	}
	d := design{row: make([][]float64, len(res)), first: make([]int, len(res))}
	first := make([]int, len(sh.runs))
	cols := make([]int, len(sh.runs))
	for id := range sh.runs {
		first[id], cols[id] = d.count, min(int(math.Round(sh.runs[id].edf)), maxColumns, st[id].n)
		d.count += cols[id]
	}
	d.sizes = make([]int, d.count)
	for id, n := range cols {
		if n > 0 {
			d.sizes[first[id]] = 1 + n
		}
	}
	for i, r := range res {
		x := 0.0
		if s := st[r.run]; s.hi > s.lo {
			x = 2*(r.station-s.lo)/(s.hi-s.lo) - 1
		}
		d.first[i], d.row[i] = first[r.run], make([]float64, cols[r.run])
		for c := range d.row[i] {
			d.row[i][c] = legendre(c, x)
		}
	}
	return d
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
