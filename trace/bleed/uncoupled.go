package bleed

import (
	"cmp"
	"math"
	"slices"
)

// uncoupled is the null hypothesis of a window: the best models without coupling, one
// a wander.
type uncoupled struct {
	col                         *columns
	lo, hi                      int
	y                           partialResidual
	null                        *gaussian
	pos                         []*gaussian // one a wander of the course
	inflated, inflatedExplained model
	surveyed                    []*survey
	raw                         []model // no explanations yet
	without                     []model // with explanations
	log                         float64
	spent                       model // of the last account that was asked for by the way
}

// newUncoupled begins the account of readings [lo, hi) of the columns y. Only what
// the search for candidates needs is built; fitAll does the rest.
func newUncoupled(col *columns, lo, hi int, y partialResidual) *uncoupled {
	st := &uncoupled{col: col, lo: lo, hi: hi, y: y}
	if col.hasN {
		st.null = nullGaussian(col, lo, hi, y.null)
		st.null.allowBends(col, lo, hi, nullEffect)
	}
	if col.course.usable {
		for _, w := range courseWanders {
			st.pos = append(st.pos, col.course.positionGaussian(lo, hi, w, y.pos))
		}
	} else {
		st.pos = []*gaussian{nil}
	}
	st.inflated = model{null: st.null, pos: st.pos[0]}
	if col.hasD || col.hasS {
		st.inflated.ds = depthSignalGaussian(col.inflated(searchNoise), lo, hi, kernelPairs[0], y.ds)
	}
	return st
}

// fitAll fits the models of every wander, once.
func (st *uncoupled) fitAll() {
	if st.raw != nil {
		return
	}
	ds := []*gaussian{nil}
	if st.inflated.ds != nil {
		ds = ds[:0]
		for _, w := range kernelPairs {
			b := depthSignalGaussian(st.col, st.lo, st.hi, w, st.y.ds)
			b.allowBends(st.col, st.lo, st.hi, depthEffect, signalEffect)
			b.cost -= math.Log(w.prior * float64(len(kernelPairs)))
			ds = append(ds, b)
		}
	}
	st.combine(ds, st.null, st.pos)
	var l []float64
	for _, t := range st.without {
		l = append(l, t.log())
	}
	st.log = logSum(l) - math.Log(float64(len(l)))
}

// combine fits models of every wander of depth and current with every
// wander of the course.
func (st *uncoupled) combine(ds []*gaussian, null *gaussian, pos []*gaussian) {
	var posExplained []*gaussian
	for _, p := range pos {
		posExplained = append(posExplained, st.explained(model{pos: p}).pos)
	}
	for _, d := range ds {
		t := st.explained(model{ds: d, null: null})
		for i, p := range pos {
			st.raw = append(st.raw, model{d, null, p})
			st.without = append(st.without, model{t.ds, t.null, posExplained[i]})
		}
	}
}

// explained is a model with the explanations that its data ask for.
func (st *uncoupled) explained(raw model) model {
	t := raw.copied()
	st.explain(t)
	return t
}

// explain adds those to a model's own Gaussians.
func (st *uncoupled) explain(t model) {
	var tees []tee
	if t.ds != nil {
		tees = explainDepthSignal(t.ds, st.col, st.lo, st.hi)
	}
	if t.null != nil {
		explainNull(t.null, st.col, st.lo, st.hi, tees)
	}
	if t.pos != nil {
		explainPosition(t.pos, st.col, st.lo, st.hi)
	}
}

// searchNoise is the least noise of log signal while candidates are sought:
// the coarse signatures do not follow the data more closely than that. Judgement.
const searchNoise = 0.03

// inflated returns columns whose log signal has at least the given noise.
func (c *columns) inflated(sigma float64) *columns {
	b := *c
	b.varS, b.covDS = slices.Clone(c.varS), slices.Clone(c.covDS)
	for k := range b.varS {
		if b.varS[k] < sigma*sigma {
			b.varS[k], b.covDS[k] = sigma*sigma, 0
		}
	}
	return &b
}

// The least log evidence of a coarse signature that is worth fitting. Judgement:
// a fit brings more than the coarse shape does, and costs time.
const (
	searchFloorKnown   = 2.5
	searchFloorUnknown = 5
	searchLeast        = 4 // of the best of a neighbour's
)

// candidate is a coupling worth fitting.
type candidate struct {
	c       *coupler
	start   params
	gain    float64
	effects []effect // of the fit that start comes from
}

// candidates scans a neighbour's signatures for the best segments of each sign
// of the share, without and with other explanations, and fits them with inflated noise.
func (st *uncoupled) candidates(e neighbour, sigs []signature) []candidate {
	var out []candidate
	floor := e.floor()
	for _, v := range st.surveys() {
		sc, t := scanner{survey: v}, v.model
		for _, positive := range []bool{false, true} {
			var some []signature
			for _, g := range sigs {
				if g.share > 0 == positive {
					some = append(some, g)
				}
			}
			if len(some) == 0 {
				continue
			}
			f := sc.best(some, floor)
			if f.logRatio < floor {
				continue
			}
			k, ok := st.start(e, some[f.sig], f, t)
			if !ok || known(out, k) {
				continue
			}
			out = append(out, k)
			if e.at == nil || !positive {
				continue
			}
			if c, ok := k.c.bridged(k.start[pFrom], k.start[pTo]); ok {
				slid := candidate{c, k.start, k.gain - 1e-6, nil}
				slid.start[pAside] = 0
				if fit, ok := c.fitCoupling(t, slid.start, nil); ok {
					slid.start, slid.effects = fit.p, fit.effects
					out = append(out, slid)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(b.gain, a.gain) })
	return out[:min(3, len(out))]
}

func (e neighbour) floor() float64 {
	if e.at == nil {
		return searchFloorUnknown
	}
	return searchFloorKnown
}

// most bounds what any coupling may bring.
func (st *uncoupled) most() float64 {
	m := math.Inf(-1)
	for _, v := range st.surveys() {
		m = max(m, v.most())
	}
	return m
}

// promises reports whether any of some signatures comes near a floor.
func (st *uncoupled) promises(sigs []signature, floor float64) bool {
	return slices.ContainsFunc(st.surveys(), func(v *survey) bool {
		sc := scanner{survey: v}
		return len(sc.ranked(sigs, floor+fineMargin/2)) > 0
	})
}

// surveys are those of the account with inflated noise, without and with explanations.
func (st *uncoupled) surveys() []*survey {
	if st.surveyed == nil {
		st.inflatedExplained = st.explained(st.inflated)
		st.surveyed = append(st.surveyed, newSurvey(st.col, st.lo, st.hi, st.inflated))
		if st.inflatedExplained.cost() > st.inflated.cost() {
			st.surveyed = append(st.surveyed, newSurvey(st.col, st.lo, st.hi, st.inflatedExplained))
		}
	}
	return st.surveyed
}

// sameShare is by what less than which the shares of two candidates are one: less than half of
// 0.12, the least distance of two shares that are tried. Judgement.
const sameShare = 0.05

// known reports whether a candidate was found before.
func known(found []candidate, k candidate) bool {
	return slices.ContainsFunc(found, func(o candidate) bool {
		return math.Abs(o.start[pFrom]-k.start[pFrom]) < 2 && math.Abs(o.start[pTo]-k.start[pTo]) < 2 &&
			math.Abs(o.start[pShare]-k.start[pShare]) < sameShare && o.c.sideU*k.c.sideU >= 0
	})
}

// startBeyondM is how far beyond its first and last reading a fit lets a stretch begin:
// half the step of a walk of readings 1 to 2 m apart. Judgement, and the fit moves it.
const startBeyondM = 0.7

func (st *uncoupled) start(e neighbour, g signature, f segmentFit, t model) (candidate, bool) {
	p := params{pFrom: st.col.rd[st.lo+f.from].StationM - startBeyondM, pTo: st.col.rd[st.lo+f.to].StationM + startBeyondM,
		pEdge: math.Log(usualEdgeM), pShare: g.share, pDepth2: math.Log(g.depth2), pOwn: g.sharingMean()}
	if e.at != nil {
		p[pAside] = g.u
	}
	c := newCoupler(st.col, e, st.lo, st.hi, g.u, p)
	fit, ok := c.fitCoupling(t, p, nil)
	return candidate{c, fit.p, f.logRatio, fit.effects}, ok
}

// surelyLess is a log evidence below which an account adds nothing to another,
// with room for what is not known of it yet. Judgement.
const surelyLess = 15

// hopeless is by how much log evidence a fit under the likeliest wander may lie below none
// to be tried under the others as well. Judgement: less loses couplings that only another
// wander bears, more costs time.
const hopeless = 8

// couple returns the log evidence of coupling to one neighbour
// over none, and the fit that carries it.
func (st *uncoupled) couple(e neighbour, sigs []signature) (float64, coupledFit) {
	best := coupledFit{logOdds: math.Inf(-1)}
	found := st.candidates(e, sigs)
	if len(found) == 0 || found[0].gain < searchLeast {
		return best.logOdds, best
	}
	st.fitAll()
	order := st.bestFirst()
	bestFirst := math.Inf(-1)
	for _, k := range found {
		var logs []float64
		var top coupledFit
		topLog, mostGain := math.Inf(-1), 0.0
		for i, w := range order {
			without := st.without[w].log()
			if i > 0 && without+mostGain+surelyLess < topLog {
				continue // too unlikely a wander to matter
			}
			f, ok := st.refine(k, w)
			if !ok || i == 0 && (f.evidence-without < -hopeless || f.evidence < bestFirst-surelyLess) {
				break
			}
			if i == 0 {
				bestFirst = max(bestFirst, f.evidence)
			}
			logs = append(logs, f.evidence)
			mostGain = max(mostGain, f.evidence-without)
			if f.evidence > topLog {
				topLog, top = f.evidence, coupledFit{fitted: f, c: k.c}
			}
		}
		if len(logs) == 0 {
			continue
		}
		if l := logSum(logs) - math.Log(float64(len(st.without))) - st.log; l > best.logOdds {
			best = top
			best.logOdds = l
		}
	}
	return best.logOdds, best
}

// coupledFit is a fit with the coupler that made it.
type coupledFit struct {
	fitted
	c       *coupler
	logOdds float64
	coupled float64 // probability of coupling
}

// bestFirst orders the wanders by how well they explain the window without
// coupling.
func (st *uncoupled) bestFirst() []int {
	order := make([]int, len(st.without))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(st.without[b].log(), st.without[a].log())
	})
	return order
}

// refine fits a candidate under one wander, in turn with the explanations that
// the residual asks for.
func (st *uncoupled) refine(k candidate, w int) (fitted, bool) {
	p, before := k.start, k.effects
	var best fitted
	found := false
	for range 2 {
		eff, ok := k.c.effects(p, before)
		if !ok {
			break
		}
		t := st.explainedWithout(k.c, p, eff, w)
		f, ok := k.c.fitCoupling(t, p, eff)
		if !ok {
			break
		}
		if !found || f.evidence > best.evidence {
			best, found = f, true
		}
		p, before = f.p, f.effects
	}
	return best, found
}

// explainedWithout seeks explanations in what a coupling leaves, and returns
// Gaussians that allow them, with the data as they are, until it is asked again.
func (st *uncoupled) explainedWithout(c *coupler, p params, eff []effect, w int) model {
	raw := st.raw[w]
	t := raw.copiedInto(&st.spent)
	t.turnTo(c.residuals(raw, p, eff))
	st.explain(t)
	t.turnTo(raw.data())
	return t
}

func logSum(l []float64) float64 {
	top := slices.Max(l)
	if math.IsInf(top, -1) {
		return top
	}
	var s float64
	for _, v := range l {
		s += math.Exp(v - top)
	}
	return top + math.Log(s)
}
