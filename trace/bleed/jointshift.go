package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// jointShift is a stretch along which columns that no doing of the line itself
// moves together go over to other levels at the same places: depth and current, or
// either with the null or the marks. A conductor that no simple arrangement of one
// neighbour describes does that: one much shallower than the line, two at once, one
// that the marks have gone over to.
type jointShift struct {
	lo, hi   int // of its window
	from, to int // readings of the window, inclusive
	fromM    float64
	toM      float64 // infinite where it runs to an end of the window
	taperM   float64
	logOdds  float64
	depth    amount // change of log depth
	signal   amount // of log signal
	null     amount // metres
	across   amount // of the marks, positive to the right, metres
}

// amount is a change with its error, one sigma.
type amount struct{ by, sd float64 }

// By how much a conductor beside changes log depth and log signal, and, in depths,
// null and marks, one sigma. Judgement: two equal lines a depth apart change them
// by 0.3, 0.6, 0.1 and 0.2.
const (
	jointDepthSD  = 0.3
	jointSignalSD = 0.6
	jointNullSD   = 0.12
	jointAcrossSD = 0.25
)

// What the line does by itself changes depth, or current, alone: one sigma, over a
// stretch. Judgement.
const aloneSD = 0.8

// roundSD is how far aside a line goes round something, in metres, one sigma. Judgement.
const roundSD = 0.8

// jointShiftLeast is by how much, in log evidence, a stretch must be more than any
// one column's doing to be weighed in full, and jointShiftReadings how many readings
// it has at least. Judgement.
const (
	jointShiftLeast    = 4
	jointShiftReadings = 4
)

// jointShift returns the stretch of the window along which most moves
// jointShift; false where nothing does.
func (st *uncoupled) jointShift(prior float64) (jointShift, bool) {
	g, ok := st.largestJointShift()
	if !ok {
		return g, false
	}
	st.fitAll()
	st.sharpen(&g)
	without := st.byItself(g, math.Inf(1))
	all := st.under(func(t model) model { return st.allowed(t, g) }, never) - st.ends(g)
	g.logOdds = all - without + logit(prior)
	st.measure(&g)
	return g, true
}

// ends is the price of the ends of a stretch that are seen.
func (st *uncoupled) ends(g jointShift) (price float64) {
	for _, end := range [2]float64{g.fromM, g.toM} {
		if !math.IsInf(end, 0) {
			price += math.Log(float64(st.hi-st.lo)) + reasonNats
		}
	}
	return price
}

// byItself is the log evidence of the window without another conductor, a change of
// depth alone or of current alone along the stretch among what the line may do. Each of
// these adds to it, so that beyond enough no more are tried.
func (st *uncoupled) byItself(g jointShift, enough float64) float64 {
	logs := []float64{st.log}
	for k, a := range st.alone(g) {
		priced := func(l float64) float64 {
			l -= st.ends(g)
			if k == currentAlone && !math.IsInf(g.fromM, 0) && !math.IsInf(g.toM, 0) {
				l -= regainMore
			}
			return l
		}
		l := st.under(a, func(least float64) bool { return logSum(append(logs, priced(least))) > enough })
		if logs = append(logs, priced(l)); logSum(logs) > enough {
			break
		}
	}
	return logSum(logs)
}

// lessAlone returns what is left of the log odds of a fit where what the line does by
// itself along the same stretch is a rival; where that is too little to report, some
// number of those.
func (st *uncoupled) lessAlone(f coupledFit) float64 {
	first, last := st.col.rd[st.lo].StationM, st.col.rd[st.hi-1].StationM
	g := jointShift{lo: st.lo, hi: st.hi, fromM: f.p[pFrom], toM: f.p[pTo], taperM: math.Exp(f.p[pEdge])}
	if g.fromM <= first {
		g.fromM = math.Inf(-1)
	}
	if g.toM >= last {
		g.toM = math.Inf(1)
	}
	if math.IsInf(g.fromM, 0) && math.IsInf(g.toM, 0) {
		return f.logOdds
	}
	return f.logOdds - (st.byItself(g, st.log+f.logOdds-logit(leastCoupled)) - st.log)
}

// jointShiftPrior is how often another conductor than those that can be tried, or one in
// another place, has signal on it. Judgement.
const jointShiftPrior = 0.2

// likelyJointShifts is what moves together along the window, if it may be likelier than
// not once the marks' course is asked.
func (st *uncoupled) likelyJointShifts() []jointShift {
	g, ok := st.jointShift(jointShiftPrior)
	if !ok || probability(g.logOdds+besideToo) < leastCoupled {
		return nil
	}
	return []jointShift{g}
}

// largestJointShift is the segment whose columns together say most beyond what the best
// of them says alone.
func (st *uncoupled) largestJointShift() (jointShift, bool) {
	v := st.surveys()[0]
	n, c := st.hi-st.lo, st.col
	best, out := float64(jointShiftLeast), jointShift{from: -1}
	for i := 0; i < n; i += 1 + n/mostPlaces {
		for j := i + jointShiftReadings - 1; j < n; j += 1 + n/mostPlaces {
			first, last := i == 0, j == n-1
			length := c.rd[st.lo+j].StationM - c.rd[st.lo+i].StationM
			if first && last || length < leastLengthM(c.depth[st.lo+i]) {
				continue
			}
			ends := 2.0 // that are seen
			if first || last {
				ends = 1
			}
			if b := v.beyondAlone(i, j) - ends*math.Log(float64(n)); b > best {
				best, out = b, jointShift{lo: st.lo, hi: st.hi, from: i, to: j, fromM: math.Inf(-1), toM: math.Inf(1), taperM: stepSeen * c.depth[st.lo+i]}
			}
		}
	}
	if out.from < 0 {
		return out, false
	}
	if out.from > 0 {
		out.fromM = (c.rd[st.lo+out.from-1].StationM + c.rd[st.lo+out.from].StationM) / 2
	}
	if out.to < n-1 {
		out.toM = (c.rd[st.lo+out.to].StationM + c.rd[st.lo+out.to+1].StationM) / 2
	}
	return out, true
}

// beyondAlone is the log evidence of all columns' changes along a segment over that
// of the change that one cause of the line's own would make.
func (v *survey) beyondAlone(i, j int) float64 {
	depth := v.col.depth[v.lo+(i+j)/2]
	var all, most float64
	if v.model.ds != nil {
		dd, ds, ss := v.onDD.of(i, j), v.onDS.of(i, j), v.onSS.of(i, j)
		d, s := v.toD.of(i, j), v.toS.of(i, j)
		all += gainOfTwo(dd, ds, ss, d, s, jointDepthSD, jointSignalSD)
		most = math.Max(gainOf(dd-2*ds+ss, d-s, aloneSD), gainOf(ss, s, aloneSD))
	}
	for k, sd := range [2]float64{jointNullSD * depth, jointAcrossSD * depth} {
		if v.scores[k] == nil {
			continue
		}
		g := gainOf(v.across[k].of(i, j), v.scores[k].of(i, j), sd)
		all, most = all+g, math.Max(most, g)
	}
	return all - most
}

// gainOfTwo is gainOf of two amplitudes at once.
func gainOfTwo(aa, ab, bb, a, b, sdA, sdB float64) float64 {
	pa, pb := aa+1/(sdA*sdA), bb+1/(sdB*sdB)
	det := pa*pb - ab*ab
	return 0.5*(pb*a*a-2*ab*a*b+pa*b*b)/det - 0.5*math.Log(det*sdA*sdA*sdB*sdB)
}

// weights is how far each reading of the window lies in the stretch, 0 to 1.
func (g jointShift) weights(c *columns, n int) []float64 {
	w := make([]float64, n)
	for k := range w {
		s := c.rd[g.lo+k].StationM
		w[k] = 1
		if !math.IsInf(g.fromM, 0) {
			w[k] *= receiver.HalfLine(s-g.fromM, g.taperM)
		}
		if !math.IsInf(g.toM, 0) {
			w[k] *= receiver.HalfLine(g.toM-s, g.taperM)
		}
	}
	return w
}

// allowed returns an account that lets the columns change along the stretch: depth
// and signal, and null and marks.
func (st *uncoupled) allowed(t model, g jointShift) model {
	n := st.hi - st.lo
	w := g.weights(st.col, n)
	if t.ds != nil {
		t.ds = t.ds.copied()
		t.ds.allow(append(slices.Clone(w), make([]float64, n)...), jointDepthSD*jointDepthSD, 0)
		t.ds.allow(append(make([]float64, n), w...), jointSignalSD*jointSignalSD, 0)
	}
	depth := st.col.depth[st.lo+(g.from+g.to)/2]
	for _, x := range []struct {
		b  **gaussian
		sd float64
	}{{&t.null, jointNullSD * depth}, {&t.pos, jointAcrossSD * depth}} {
		if *x.b != nil {
			*x.b = (*x.b).copied()
			(*x.b).allow(w, x.sd*x.sd, 0)
		}
	}
	return t
}

// sharpen finds where between two readings the ends lie, and how fast the levels
// change there.
func (st *uncoupled) sharpen(g *jointShift) {
	c := st.col
	at := func(edge float64, i int) []float64 {
		if math.IsInf(edge, 0) {
			return []float64{edge}
		}
		a, b := c.rd[st.lo+i-1].StationM, c.rd[st.lo+i].StationM
		// A grid over the gap between two readings. Judgement.
		return []float64{0.8*a + 0.2*b, 0.5*a + 0.5*b, 0.2*a + 0.8*b}
	}
	best, top := math.Inf(-1), *g
	for _, taper := range []float64{stepSeen * c.depth[st.lo+g.from], 4} {
		for _, from := range at(g.fromM, g.from) {
			for _, to := range at(g.toM, g.to+1) {
				try := *g
				try.fromM, try.toM, try.taperM = from, to, taper
				if l := st.allowed(st.inflated, try).log(); l > best {
					best, top = l, try
				}
			}
		}
	}
	*g = top
}

// currentAlone is the place of a change of current among what a line does alone: derived
// from the order in alone.
const currentAlone = 1

// alone lists what the line itself may do along the stretch: go deeper, lose current,
// or go round something.
func (st *uncoupled) alone(g jointShift) []func(model) model {
	n := st.hi - st.lo
	w := g.weights(st.col, n)
	against := make([]float64, n)
	for k, x := range w {
		against[k] = -x
	}
	on := func(v []float64) func(model) model {
		return func(t model) model {
			if t.ds != nil {
				t.ds = t.ds.copied()
				t.ds.allow(v, aloneSD*aloneSD, 0)
			}
			return t
		}
	}
	return []func(model) model{
		on(append(slices.Clone(w), against...)),
		on(append(make([]float64, n), w...)),
		func(t model) model {
			if t.pos != nil {
				t.pos = t.pos.copied()
				t.pos.allow(w, roundSD*roundSD, 0)
			}
			return t
		},
	}
}

// under is the log evidence of the window under a change of its accounts, over all
// wanders, other explanations allowed. Each wander adds to it: where what some of them come
// to is enough, that is told, and no more are tried.
func (st *uncoupled) under(change func(model) model, enough func(least float64) bool) float64 {
	var l []float64
	of := map[*gaussian]float64{}
	once := func(b *gaussian, raw, without model) float64 {
		if b == nil {
			return 0
		}
		v, ok := of[b]
		if !ok {
			v = st.logUnder(change, raw, without)
			of[b] = v
		}
		return v
	}
	for i, raw := range st.raw {
		without := st.without[i]
		pos := once(raw.pos, model{pos: raw.pos}, model{pos: without.pos})
		first := raw.ds
		if first == nil {
			first = raw.null
		}
		ds := once(first, model{ds: raw.ds, null: raw.null}, model{ds: without.ds, null: without.null})
		l = append(l, ds+pos)
		if least := logSum(l) - math.Log(float64(len(st.raw))); enough(least) {
			return least
		}
	}
	return logSum(l) - math.Log(float64(len(l)))
}

// logUnder is the log evidence of a part of an account that is changed; without is what
// explanations make of it unchanged, which is known.
func (st *uncoupled) logUnder(change func(model) model, raw, without model) float64 {
	t := change(raw)
	if t == raw {
		return without.log()
	}
	t = t.copiedInto(&st.spent)
	st.explain(t)
	return t.log()
}

func never(float64) bool { return false }

// measure takes the amounts from the likeliest wander.
func (st *uncoupled) measure(g *jointShift) {
	n := st.hi - st.lo
	w := g.weights(st.col, n)
	depth := st.col.depth[st.lo+(g.from+g.to)/2]
	t := st.raw[st.bestFirst()[0]]
	if t.ds != nil {
		d, s := append(slices.Clone(w), make([]float64, n)...), append(make([]float64, n), w...)
		g.depth, g.signal = t.ds.amountOf(d, s, jointDepthSD, jointSignalSD), t.ds.amountOf(s, d, jointSignalSD, jointDepthSD)
	}
	if t.null != nil {
		g.null = t.null.amountOf(w, nil, jointNullSD*depth, 0)
	}
	if t.pos != nil {
		g.across = t.pos.amountOf(w, nil, jointAcrossSD*depth, 0)
	} else {
		g.across.sd = jointAcrossSD * depth
	}
}

// amountOf is the amplitude of one column, another one left free.
func (b *gaussian) amountOf(v, other []float64, sd, otherSD float64) amount {
	if other != nil {
		b = b.copied()
		b.allow(other, otherSD*otherSD, 0)
	}
	p, s := 1/(sd*sd), 0.0
	for i, x := range b.times(v) {
		p += v[i] * x
	}
	for i, x := range v {
		s += x * b.py[i]
	}
	return amount{s / p, 1 / math.Sqrt(p)}
}
