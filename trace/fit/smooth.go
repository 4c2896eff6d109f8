package fit

import (
	"math"

	"loamline/geo"
)

// run is a stretch of the line without a corner: a straight line, or a smooth
// curve held as offsets from a reference path with evenly spaced nodes.
type run struct {
	from, to int      // window of the builder's samples
	part     []sample // those that it is fitted to, by station
	strays   float64  // price of those in the window that it is not
	straight bool     // else smooth
	hM       float64  // distance between the nodes
	nodes    []geo.XY
	normals  []geo.XY // unit, to the left of travel
	foot     []foot   // of each sample on the nodes
	turn     float64  // variance of the turn in rad²/m (q), 0 for straight
	order    int      // difference that the penalty holds down
	factor   *banded  // of BᵀWB + λDᵀD
	rss      float64  // weighted
	edf      float64
}

// foot of a sample on the nodes of a run: between node k and k+1 at share u.
type foot struct {
	k int32
	u float32
}

// score is Schwarz's criterion of the run.
func (r *run) score(price float64) float64 { return r.rss + r.params()*price + r.strays }

// params is the number of parameters that a run costs: its own, where it starts,
// and one more for an arc, which is rarer than a straight.
func (r *run) params() float64 {
	if r.order == 3 {
		return r.edf + 1 + arcOdds
	}
	return r.edf + 1
}

const arcOdds = 2.0

// fitStraight fits one line to the samples.
func fitStraight(part []sample) run {
	var m moments
	origin := part[0].p
	for _, q := range part {
		m.add(q.p.Sub(origin), q.wt)
	}
	l, rss := m.line()
	l.at = l.at.Add(origin)
	if l.dir.Dot(trend(part, l)) < 0 {
		l.dir = l.dir.Scale(-1)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range part {
		t := q.p.Sub(l.at).Dot(l.dir)
		lo, hi = math.Min(lo, t), math.Max(hi, t)
	}
	if hi-lo < 1e-9 {
		hi = lo + 1e-9
	}
	r := run{part: part, straight: true, rss: rss, edf: 2, order: 2, hM: hi - lo}
	r.nodes = []geo.XY{l.at.Add(l.dir.Scale(lo)), l.at.Add(l.dir.Scale(hi))}
	n := geo.XY{X: -l.dir.Y, Y: l.dir.X}
	r.normals = []geo.XY{n, n}
	return r
}

// trend is the direction in which the samples run.
func trend(s []sample, l straight) geo.XY {
	mean := 0.0
	for _, q := range s {
		mean += q.station
	}
	mean /= float64(len(s))
	var v geo.XY
	for _, q := range s {
		v = v.Add(q.p.Sub(l.at).Scale(q.station - mean))
	}
	return v
}

// smoothRounds is how often the reference path of a smooth run is renewed.
const smoothRounds = 2

// fitSmooth fits a curve whose heading turns at random along the way: a
// penalised spline (Eilers and Marx 1996, Stat. Sci. 11:89) of the offsets from
// a reference path, with the amount of turn by restricted likelihood (Patterson
// and Thompson 1971, Biometrika 58:545) under the known noise, and the
// reference renewed from the result.
func fitSmooth(part []sample, guide []geo.XY, hM float64) (run, bool) {
	r := run{part: part, order: 2, hM: hM}
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
		bend := r.bend()
		r.chooseTurn(part, e, bend, round == 0)
		d, _ := r.solve(part, e, bend, r.turn)
		if round == smoothRounds-1 {
			r.measure(part, e, d)
		}
		for k := range r.nodes {
			r.nodes[k] = r.nodes[k].Add(r.normals[k].Scale(d[k]))
		}
	}
	return r, !math.IsNaN(r.rss)
}

// referencePath is a local straight-line regression of the guide points on the
// station, at even distances.
func referencePath(s []sample, guide []geo.XY, hM float64) []geo.XY {
	first, last := s[0].station, s[len(s)-1].station
	n := int(math.Ceil((last-first)/hM)) + 1
	if n < 2 {
		return nil
	}
	step := (last - first) / float64(n-1)
	width := 3 * hM
	out := make([]geo.XY, n)
	lo, hi := 0, 0
	for k := range out {
		at := first + float64(k)*step
		for hi < len(s) && s[hi].station <= at+width {
			hi++
		}
		for lo < len(s)-1 && s[lo].station < at-width {
			lo++
		}
		a, b := lo, hi
		for b-a < 4 && b-a < len(s) { // widen over a thin stretch
			if a > 0 && (b >= len(s) || at-s[a-1].station <= s[b].station-at) {
				a--
			} else {
				b++
			}
		}
		out[k] = localPoint(s[a:b], guide[a:b], at, width)
	}
	return resample(out, hM)
}

// localPoint is the value at a station of a straight line through the guide
// points, with tricube weights.
func localPoint(s []sample, guide []geo.XY, at, width float64) geo.XY {
	for _, q := range []sample{s[0], s[len(s)-1]} {
		width = math.Max(width, 1.001*math.Abs(q.station-at))
	}
	var s0, s1, s2 float64
	var y0, y1 geo.XY
	for i, q := range s {
		u := (q.station - at) / width
		t := 1 - math.Abs(u*u*u)
		wt := q.wt * t * t * t
		s0, s1, s2 = s0+wt, s1+wt*u, s2+wt*u*u
		y0, y1 = y0.Add(guide[i].Scale(wt)), y1.Add(guide[i].Scale(wt*u))
	}
	det := s0*s2 - s1*s1
	if det <= 1e-9*s0*s2 {
		return y0.Scale(1 / s0)
	}
	return y0.Scale(s2 / det).Sub(y1.Scale(s1 / det))
}

// resample returns points at even distances of about hM along a path, both ends
// included.
func resample(path []geo.XY, hM float64) []geo.XY {
	line := geo.NewPolyline(path)
	length := line.Length()
	if !(length > 0) {
		return nil
	}
	n := max(2, int(math.Round(length/hM))+1)
	out := make([]geo.XY, n)
	seg := 0
	for k := range out {
		at := length * float64(k) / float64(n-1)
		for seg+2 < len(path) && line.Station(seg+1) < at {
			seg++
		}
		u := 0.0
		if d := line.Station(seg+1) - line.Station(seg); d > 0 {
			u = clamp((at-line.Station(seg))/d, 0, 1)
		}
		out[k] = path[seg].Lerp(path[seg+1], u)
	}
	return out
}

// offsets finds the foot of each sample on the nodes and returns how far it
// lies to the left. The search stays near the foot of the sample before.
func (r *run) offsets(s []sample) []float64 {
	r.setNormals()
	e := make([]float64, len(s))
	n := len(r.nodes)
	guess := 0.0
	for i, q := range s {
		if i > 0 {
			guess = float64(r.foot[i-1].k) + float64(r.foot[i-1].u) + (q.station-s[i-1].station)/r.hM
		}
		reach := 4 + min(40, int(2/math.Sqrt(q.wt)/r.hM))
		best := math.Inf(1)
		for k := max(0, int(guess)-reach); k < min(n-1, int(guess)+reach+1); k++ {
			if u, d2 := legFoot2(r.nodes[k], r.nodes[k+1], q.p); d2 < best {
				best = d2
				r.foot[i] = foot{int32(k), float32(u)}
			}
		}
		if i == 0 || math.IsInf(best, 1) {
			r.wholeFoot(i, q.p)
		}
		f := r.foot[i]
		at := r.nodes[f.k].Lerp(r.nodes[f.k+1], float64(f.u))
		nrm := r.normals[f.k].Lerp(r.normals[f.k+1], float64(f.u))
		e[i] = q.p.Sub(at).Dot(nrm) / math.Max(0.2, nrm.Norm())
	}
	return e
}

// wholeFoot looks for the foot of a sample on all nodes.
func (r *run) wholeFoot(i int, p geo.XY) {
	best := math.Inf(1)
	for k := 0; k+1 < len(r.nodes); k++ {
		if u, d2 := legFoot2(r.nodes[k], r.nodes[k+1], p); d2 < best {
			best = d2
			r.foot[i] = foot{int32(k), float32(u)}
		}
	}
}

// legFoot2 is legFoot with the square of the distance.
func legFoot2(a, b, q geo.XY) (u, d2 float64) {
	abx, aby, qx, qy := b.X-a.X, b.Y-a.Y, q.X-a.X, q.Y-a.Y
	if n := abx*abx + aby*aby; n > 0 {
		u = (qx*abx + qy*aby) / n
		if u < 0 {
			u = 0
		} else if u > 1 {
			u = 1
		}
	}
	dx, dy := qx-u*abx, qy-u*aby
	return u, dx*dx + dy*dy
}

// legFoot returns the share along a leg of the foot of q, and its distance.
func legFoot(a, b, q geo.XY) (u, d float64) {
	ab := b.Sub(a)
	if n := ab.Dot(ab); n > 0 {
		u = clamp(q.Sub(a).Dot(ab)/n, 0, 1)
	}
	return u, q.Dist(a.Lerp(b, u))
}

func (r *run) setNormals() {
	n := len(r.nodes)
	r.normals = make([]geo.XY, n)
	for k := range r.nodes {
		d := r.nodes[min(k+1, n-1)].Sub(r.nodes[max(k-1, 0)])
		if l := d.Norm(); l > 0 {
			r.normals[k] = geo.XY{X: -d.Y / l, Y: d.X / l}
		} else if k > 0 {
			r.normals[k] = r.normals[k-1]
		}
	}
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
// second difference over nodes hM apart has the variance q·h³, and the third
// difference, of the change of turn, q·h⁵.
func (r *run) weightOf(turn float64) float64 {
	return 1 / (turn * math.Pow(r.hM, float64(2*r.order-1)))
}

// solve returns the offsets of the nodes for an amount of turn, and -2 ln of
// the restricted likelihood to within a constant.
func (r *run) solve(s []sample, e, bend []float64, turn float64) ([]float64, float64) {
	n := len(r.nodes)
	lambda := r.weightOf(turn)
	if r.factor == nil || r.factor.n != n {
		r.factor = newBanded(n, r.order)
	}
	r.factor.clear()
	d := make([]float64, n)
	w := r.order + 1
	a := r.factor.a
	for i, q := range s {
		k, u := int(r.foot[i].k), float64(r.foot[i].u)
		v := 1 - u
		a[k*w] += q.wt * v * v
		a[k*w+1] += q.wt * u * v
		a[(k+1)*w] += q.wt * u * u
		d[k] += q.wt * v * e[i]
		d[k+1] += q.wt * u * e[i]
	}
	r.penalty(lambda, bend, a, d)
	rhs := append([]float64(nil), d...)
	logDet := r.factor.factor()
	r.factor.solve(d)
	fit := 0.0
	for k := range d {
		fit += rhs[k] * d[k]
	}
	total := 0.0
	for i, q := range s {
		total += q.wt * e[i] * e[i]
	}
	for k := 1; k+1 < n && r.order == 2; k++ {
		total += lambda * bend[k] * bend[k]
	}
	return d, total - fit + logDet - float64(n-r.order)*math.Log(lambda)
}

// penalty adds λ times the squared second differences of reference and offset;
// third differences, of the offset alone, where the reference is an arc.
func (r *run) penalty(lambda float64, bend, a, rhs []float64) {
	if r.order == 3 {
		coef := [4]float64{-1, 3, -3, 1}
		for k := 0; k+3 < len(r.nodes); k++ {
			for i := range coef {
				for j := i; j < 4; j++ {
					a[(k+i)*4+j-i] += lambda * coef[i] * coef[j]
				}
			}
		}
		return
	}
	coef := [3]float64{1, -2, 1}
	for k := 1; k+1 < len(r.nodes); k++ {
		for i := 0; i < 3; i++ {
			for j := i; j < 3; j++ {
				a[(k-1+i)*3+j-i] += lambda * coef[i] * coef[j]
			}
			rhs[k-1+i] -= lambda * coef[i] * bend[k]
		}
	}
}

// chooseTurn picks the amount of turn: the first time by a coarse search over
// seven decades, then by steps around the best.
func (r *run) chooseTurn(s []sample, e, bend []float64, coarse bool) {
	best, at := math.Inf(1), math.Log10(math.Max(r.turn, 1e-7))
	try := func(exp float64) {
		if _, l := r.solve(s, e, bend, math.Pow(10, exp)); l < best {
			best, at = l, exp
		}
	}
	steps := []float64{0.5, 0.25}
	if coarse {
		for exp := -7.0; exp <= 0.01; exp += 1.75 {
			try(exp)
		}
		steps = []float64{0.8, 0.4}
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
	z := r.factor.inverseBand()
	w := r.order + 1
	r.rss, r.edf = 0, 0
	for i, q := range s {
		k, u := int(r.foot[i].k), float64(r.foot[i].u)
		v := 1 - u
		res := e[i] - v*d[k] - u*d[k+1]
		r.rss += q.wt * res * res
		r.edf += q.wt * (v*v*z[k*w] + 2*u*v*z[k*w+1] + u*u*z[(k+1)*w])
	}
}
