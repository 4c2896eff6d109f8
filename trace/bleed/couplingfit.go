package bleed

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// fitted is a coupling fitted to a window.
type fitted struct {
	p        params
	effects  []effect
	cov      [pCount][pCount]float64 // posterior of p
	evidence float64                 // log, comparable with model.log
	ds, n    float64                 // log likelihood ratios of depth and signal, of the null
	pos      float64                 // and of the marks' positions
}

// Judgement, on the numerical method: the most steps and dampings tried at each, the gain of log
// likelihood that is worth another step, and how the damping changes with success and
// without.
const (
	fitSteps     = 25
	dampings     = 6
	fitTolerance = 0.01
	dampLess     = 5
	dampMore     = 6
)

// fitCoupling fits a coupling by damped Gauss-Newton steps (Levenberg, 1944;
// Marquardt, 1963) under a model's covariance, and integrates it out by
// Laplace's method.
// It begins with the effects of a fit before, if there is one.
func (c *coupler) fitCoupling(t model, start params, before []effect) (fitted, bool) {
	p := start
	eff, ok := c.effects(p, before)
	if !ok {
		return fitted{}, false
	}
	cost := c.cost(t, p, eff)
	h, g := c.normal(t, p, eff)
	lambda := 1e-3
	for range fitSteps {
		improved := false
		for range dampings {
			q := p
			step, solved := solveDamped(h, g, lambda)
			if !solved {
				break
			}
			for i := range q {
				q[i] += step[i]
			}
			c.hold(&q)
			next, ok := c.responses(q, eff)
			if ok {
				if v := c.cost(t, q, next); v < cost && c.slopes(next, q) {
					improved = cost-v > fitTolerance
					p, eff, cost = q, next, v
					h, g = c.normal(t, p, eff)
					lambda = math.Max(1e-6, lambda/dampLess)
					break
				}
			}
			lambda *= dampMore
		}
		if !improved {
			break
		}
	}
	return c.finish(t, p, eff, h)
}

// Where a coupling's model means something: how far outside of the window it may begin or
// end; over what lengths its share may set in; what share may flow against the line's
// current, as more than all of it turns the field about, and along with it; by what log
// the depth of a neighbour, and the distance of one that nobody drew, may be moved.
// Judgement.
const (
	beyondWindowM = 15
	leastEdgeM    = 0.3
	mostEdgeM     = 8
	mostOpposed   = 0.95
	mostAlong     = 1.2
	mostMoved     = 0.8
)

// hold keeps parameters where the model means something.
func (c *coupler) hold(p *params) {
	first, last := c.col.rd[c.lo].StationM, c.col.rd[c.hi-1].StationM
	p[pFrom] = math.Max(first-beyondWindowM, math.Min(last-2, p[pFrom]))
	p[pTo] = math.Min(last+beyondWindowM, math.Max(p[pFrom]+3, p[pTo]))
	p[pEdge] = math.Max(math.Log(leastEdgeM), math.Min(math.Log(mostEdgeM), p[pEdge]))
	p[pShare] = math.Max(-mostOpposed, math.Min(mostAlong, p[pShare]))
	p[pAside] = math.Max(-3, math.Min(3, p[pAside]))
	if c.e.at == nil {
		p[pAside] = math.Max(-mostMoved, math.Min(mostMoved, p[pAside]))
	}
	p[pDepth2] = math.Max(-mostMoved, math.Min(mostMoved, p[pDepth2]))
}

// residuals are the data less the coupling.
func (c *coupler) residuals(t model, p params, eff []effect) (left partialResidual) {
	n := c.hi - c.lo
	if t.ds != nil {
		left.ds = make([]float64, 2*n)
		for i, x := range eff {
			left.ds[i] = t.ds.y[i] - x.lnDepth
			left.ds[n+i] = t.ds.y[n+i] - x.lnField - p[pOwn]*x.edge
		}
	}
	if t.null != nil {
		left.null = make([]float64, n)
		for i, x := range eff {
			left.null[i] = t.null.y[i] - x.nullM
		}
	}
	if t.pos != nil {
		left.pos = make([]float64, n)
		for i, x := range eff {
			left.pos[i] = t.pos.y[i] - x.shiftM
		}
	}
	return left
}

func (c *coupler) cost(t model, p params, eff []effect) float64 {
	left := c.residuals(t, p, eff)
	return 0.5 * (t.ds.form(left.ds) + t.null.form(left.null) + t.pos.form(left.pos) + c.priorForm(p))
}

func (c *coupler) priorForm(p params) float64 {
	var q float64
	for i := range p {
		z := (p[i] - c.mean[i]) / c.sd[i]
		q += z * z
	}
	return q
}

// normal returns the normal matrix and the descent of the cost.
func (c *coupler) normal(t model, p params, eff []effect) (h [pCount][pCount]float64, g params) {
	for i := range g {
		h[i][i] = 1 / (c.sd[i] * c.sd[i])
		g[i] = -(p[i] - c.mean[i]) * h[i][i]
	}
	left := c.residuals(t, p, eff)
	n := len(eff)
	if t.ds != nil {
		var j [pCount][]float64
		for i := range j {
			j[i] = make([]float64, 2*n)
		}
		for k := range eff {
			d, s := eff[k].gradient(depthOf), eff[k].gradient(fieldOf)
			for i := range j {
				j[i][k], j[i][n+k] = d[i], s[i]+p[pOwn]*eff[k].edgeBy[i]
			}
			j[pOwn][n+k] += eff[k].edge
		}
		t.ds.accumulate(&h, &g, j, left.ds)
	}
	if t.null != nil {
		t.null.accumulate(&h, &g, jacobian(eff, nullOf), left.null)
	}
	if t.pos != nil {
		t.pos.accumulate(&h, &g, jacobian(eff, shiftOf), left.pos)
	}
	return h, g
}

// jacobian is how one part of all responses changes with the parameters.
func jacobian(eff []effect, of func(response) float64) (j [pCount][]float64) {
	for i := range j {
		j[i] = make([]float64, len(eff))
	}
	for k := range eff {
		v := eff[k].gradient(of)
		for i := range j {
			j[i][k] = v[i]
		}
	}
	return j
}

func (b *gaussian) accumulate(h *[pCount][pCount]float64, g *params, j [pCount][]float64, r []float64) {
	for a := range j {
		w := b.times(j[a])
		for i, v := range w {
			g[a] += v * r[i]
		}
		for c := 0; c <= a; c++ {
			var s float64
			for i, v := range w {
				s += v * j[c][i]
			}
			h[a][c] += s
			if c != a {
				h[c][a] += s
			}
		}
	}
}

// times is precision times v.
func (b *gaussian) times(v []float64) []float64 {
	out := make([]float64, b.n)
	for j, x := range v {
		if x == 0 {
			continue
		}
		floats.AddScaled(out, x, b.prec[j*b.n:(j+1)*b.n]) // symmetric
	}
	return out
}

// form is v'Pv, 0 without a gaussian.
func (b *gaussian) form(v []float64) float64 {
	if b == nil {
		return 0
	}
	var s float64
	for i, x := range b.times(v) {
		s += v[i] * x
	}
	return s
}

// finish computes evidence and posterior at the optimum, h being the normal matrix there.
func (c *coupler) finish(t model, p params, eff []effect, h [pCount][pCount]float64) (fitted, bool) {
	f := fitted{p: p, effects: eff}
	inverse, logDet, ok := invert(h)
	if !ok {
		return f, false
	}
	f.cov = inverse
	left := c.residuals(t, p, eff)
	weigh := func(b *gaussian, v []float64) (ratio float64) {
		if b == nil {
			return 0
		}
		q := b.form(v)
		f.evidence += -0.5*(b.logDet+q) - b.cost
		return 0.5 * (b.form(b.y) - q)
	}
	f.ds, f.n, f.pos = weigh(t.ds, left.ds), weigh(t.null, left.null), weigh(t.pos, left.pos)
	f.evidence -= 0.5 * (c.priorForm(p) + logDet)
	for i := range c.sd {
		f.evidence -= math.Log(c.sd[i])
	}
	return f, true
}
