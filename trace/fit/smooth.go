package fit

import (
	"math"

	"loamline.example/geo"
)

// smoothRounds is how often the reference path of a smooth run is renewed. Judgement, as in
// a prototype study of the method.
const smoothRounds = 2

// fitSmooth fits a curve whose heading turns at random along the way: a
// penalised spline (Eilers and Marx 1996, Stat. Sci. 11:89) of the offsets from
// a reference path, with the amount of turn by restricted likelihood (Patterson
// and Thompson 1971, Biometrika 58:545) under the known noise, and the
// reference renewed from the result.
func fitSmooth(part []sample, guide []geo.XY, hM float64) (run, bool) {
	r := run{part: part, hM: hM}
	r.nodes = referencePath(part, guide, hM)
	if len(r.nodes) < 4 {
		return r, false
	}
	r.foot = make([]foot, len(part))
	most := 2*len(r.nodes) + 10
	for round := 0; round < smoothRounds; round++ {
		if round > 0 {
			r.nodes = resample(r.nodes, hM)
			if len(r.nodes) < 4 || len(r.nodes) > most {
				return r, false
			}
		}
		e := r.offsets(part)
		bend, p := r.bend(), r.pullsOf(part, e)
		r.chooseTurn(p, bend, round == 0)
		d, minusTwoLn := r.solve(p, bend, r.turn)
		if round == smoothRounds-1 {
			r.measure(part, e, d)
			r.occam = smoothOccam(minusTwoLn, r.rss, r.hM)
		}
		for k := range r.nodes {
			r.nodes[k] = r.nodes[k].Add(r.normals[k].Scale(d[k]))
		}
	}
	return r, !math.IsNaN(r.rss)
}

// bend is the second difference of the reference itself, to the left, at the
// inner nodes.
func (r *run) bend() []float64 {
	n := len(r.nodes)
	c := make([]float64, n)
	for k := 1; k+1 < n; k++ {
		d := r.nodes[k-1].Add(r.nodes[k+1]).Sub(r.nodes[k].Scale(2))
		c[k] = d.Dot(r.normals[k])
	}
	return c
}

// weightOf turns the turn variance into the penalty on squared differences: a
// second difference over nodes hM apart has the variance q·h³.
func (r *run) weightOf(turn float64) float64 {
	return 1 / (turn * math.Pow(r.hM, 3))
}

// pulls is what the readings ask of the nodes: their normal equations without a
// penalty, which are the same for every amount of turn.
type pulls struct {
	data, rhs []float64 // BᵀWB, as banded, and BᵀWe
	total     float64   // eᵀWe
	offset    []float64 // room for the solution
}

// pullsOf sums up the samples, e to the left of the nodes.
func (r *run) pullsOf(s []sample, e []float64) *pulls {
	const w = 3
	n := len(r.nodes)
	room := make([]float64, n*(w+2))
	p := &pulls{data: room[:n*w], rhs: room[n*w : n*(w+1)], offset: room[n*(w+1):]}
	for i, q := range s {
		k, u := int(r.foot[i].k), float64(r.foot[i].u)
		v := 1 - u
		p.data[k*w] += q.wt * v * v
		p.data[k*w+1] += q.wt * u * v
		p.data[(k+1)*w] += q.wt * u * u
		p.rhs[k] += q.wt * v * e[i]
		p.rhs[k+1] += q.wt * u * e[i]
		p.total += q.wt * e[i] * e[i]
	}
	return p
}

// solve returns the offsets of the nodes for an amount of turn, good until the
// next one is solved, and -2 ln of the restricted likelihood to within a constant.
func (r *run) solve(p *pulls, bend []float64, turn float64) ([]float64, float64) {
	minusTwoLn := r.likelihood(p, bend, turn)
	r.factor.back(p.offset)
	return p.offset, minusTwoLn
}

// likelihood is that of solve, which is left half done.
func (r *run) likelihood(p *pulls, bend []float64, turn float64) float64 {
	n := len(r.nodes)
	lambda := r.weightOf(turn)
	if r.factor == nil || r.factor.n != n {
		r.factor = newBanded(n)
	}
	copy(r.factor.a, p.data)
	copy(p.offset, p.rhs)
	r.penalty(lambda, bend, r.factor.a, p.offset)
	logDet := r.factor.eliminate(p.offset)
	fit := 0.0
	for k, v := range p.offset {
		fit += v * v / r.factor.a[3*k]
	}
	total := p.total
	for k := 1; k+1 < n; k++ {
		total += lambda * bend[k] * bend[k]
	}
	return total - fit + logDet - float64(n-2)*math.Log(lambda)
}

// penalty adds λ times the squared second differences of reference and offset.
func (r *run) penalty(lambda float64, bend, a, rhs []float64) {
	for k := 1; k+1 < len(r.nodes); k++ {
		row, biasM := a[3*k-3:3*k+4:3*k+4], lambda*bend[k]
		row[0] += lambda
		row[1] -= 2 * lambda
		row[2] += lambda
		row[3] += 4 * lambda
		row[4] -= 2 * lambda
		row[6] += lambda // the diagonal of node k+1: derived, of three numbers a node
		rhs[k-1] -= biasM
		rhs[k] += 2 * biasM
		rhs[k+1] -= biasM
	}
}

// The amounts of turn that are tried, in decades: the coarse search, and the steps to
// either side of the best after it and on a later round. Judgement: every try is a
// factorisation.
var (
	coarseTurns = struct{ from, to, step float64 }{-7, 0.01, 1.75}
	coarseSteps = []float64{0.8, 0.4}
	fineSteps   = []float64{0.5, 0.25}
)

// chooseTurn picks the amount of turn: the first time by a coarse search over
// seven decades, then by steps around the best.
func (r *run) chooseTurn(p *pulls, bend []float64, coarse bool) {
	best, at := math.Inf(1), math.Log10(math.Max(r.turn, 1e-7))
	try := func(exp float64) {
		if l := r.likelihood(p, bend, math.Pow(10, exp)); l < best {
			best, at = l, exp
		}
	}
	steps := fineSteps
	if coarse {
		for exp := coarseTurns.from; exp <= coarseTurns.to; exp += coarseTurns.step {
			try(exp)
		}
		steps = coarseSteps
	} else {
		try(at)
	}
	for _, step := range steps {
		mid := at
		try(mid - step)
		try(mid + step)
	}
	r.turn = math.Pow(10, at)
}

// measure sets the weighted residual sum and the effective degrees of freedom,
// the trace of the smoother.
func (r *run) measure(s []sample, e, d []float64) {
	z := r.factor.inverseBand(nil)
	const w = 3
	r.rss, r.edf = 0, 0
	for i, q := range s {
		k, u := int(r.foot[i].k), float64(r.foot[i].u)
		v := 1 - u
		res := e[i] - v*d[k] - u*d[k+1]
		r.rss += q.wt * res * res
		r.edf += q.wt * (v*v*z[k*w] + 2*u*v*z[k*w+1] + u*u*z[(k+1)*w])
	}
}
