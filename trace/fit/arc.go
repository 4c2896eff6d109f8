package fit

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// An arc is drawn with chords that leave it by no more than arcSagittaM. Judgement; only
// leastInArc follows, from the three parameters of a circle and one to contradict them.
const (
	arcSagittaM   = 0.002
	mostArcPoints = 320
	arcRounds     = 3 // of Gauss and Newton's steps, which hardly move it after two
	leastInArc    = 4
)

// fitArc fits a circular arc to the samples: Kåsa's circle (1976, IEEE Trans.
// Instrum. Meas. 25:8), then by the least squares of how far they lie off it.
func fitArc(part []sample) (run, bool) {
	r := run{part: part, arc: true, edf: 3}
	if len(part) < leastInArc {
		return r, false
	}
	var m moments
	origin := part[0].p
	for _, q := range part {
		m.add(q.p.Sub(origin), q.wt)
	}
	var ok bool
	if r.circle, _, ok = m.arc(); !ok || r.circle.radius < minRadiusM || r.circle.radius > maxRadiusM {
		return r, false
	}
	r.circle.center = r.circle.center.Add(origin)
	from, turn := r.circle.swept(part)
	for range arcRounds {
		r.mid = turned(from + turn/2)
		if r.occam, ok = r.closer(); !ok {
			return r, false
		}
		from, turn = r.circle.swept(part)
	}
	if math.Abs(turn) > mostTurnedArc || math.Abs(turn)*r.circle.radius < 1e-6 {
		return r, false
	}
	r.mid = turned(from + turn/2)
	for _, q := range part {
		r.rss += q.wt * sq(q.p.Dist(r.circle.center)-r.circle.radius)
	}
	// A chord over a turn of t leaves a circle of radius R by R·t²/8 in its middle. Derived.
	legs := max(3, min(mostArcPoints, int(math.Ceil(math.Abs(turn)/math.Sqrt(8*arcSagittaM/r.circle.radius)))))
	r.hM = math.Abs(turn) * r.circle.radius / float64(legs)
	r.nodes = make([]geo.XY, legs+1)
	for k := range r.nodes {
		r.nodes[k] = r.circle.center.Add(turned(from + turn*float64(k)/float64(legs)).Scale(r.circle.radius))
	}
	return r, !math.IsNaN(r.rss)
}

// turned is the unit vector at an angle.
func turned(angle float64) geo.XY {
	sin, cos := math.Sincos(angle)
	return geo.XY{X: cos, Y: sin}
}

// closer moves an arc to where its readings lie off it least, to first order: in its middle it
// is shifted, turned and bent by what they ask for. It returns the Occam factor there, and false
// where they ask for no arc.
func (r *run) closer() (occam float64, ok bool) {
	info, x := r.information(func(q sample) float64 { return q.p.Dist(r.circle.center) - r.circle.radius })
	occam = choleskyInPlace(info, len(x)) + lineRange() + 2*math.Log(bendRange) - math.Log(2*math.Pi)
	choleskySolve(info, len(x), x)
	c := &r.circle
	unbent := x[2] * c.radius // of its curvature, in parts
	if !(unbent < 1-c.radius/(2*maxRadiusM)) {
		return occam, false
	}
	at := c.center.Add(r.mid.Scale(c.radius + x[0]))
	normal := unit(r.mid.Sub(geo.XY{X: -r.mid.Y, Y: r.mid.X}.Scale(x[1])))
	c.radius = x[0] + c.radius/(1-unbent)
	c.center = at.Sub(normal.Scale(c.radius))
	return occam, c.radius > 0
}

// columns are what moves a straight run or an arc across itself at a place: an offset, a heading
// and, of an arc, a bend, in metres, radians and radians a metre about its start or its middle.
func (r *run) columns(p geo.XY) [3]float64 {
	if r.straight {
		n := r.normals[0]
		return [3]float64{1, p.Sub(r.nodes[0]).Dot(geo.XY{X: n.Y, Y: -n.X}), 0}
	}
	v, radius := unit(p.Sub(r.circle.center)), r.circle.radius
	return [3]float64{1, radius * r.mid.Cross(v), sq(radius) * (1 - r.mid.Dot(v))}
}

// information is what the readings of a straight run or an arc tell of it, and what they ask for
// by how far off each lies: the normal equations in its columns.
func (r *run) information(off func(sample) float64) (info, asked []float64) {
	n := 3
	if r.straight {
		n = 2
	}
	info, asked = make([]float64, n*n), make([]float64, n)
	for _, q := range r.part {
		c, e := r.columns(q.p), off(q)
		for j := range n {
			asked[j] += q.wt * c[j] * e
			for m := 0; m <= j; m++ {
				info[j*n+m] += q.wt * c[j] * c[m]
			}
		}
	}
	return info, asked
}

// leverage is the weight of each sample of a straight run or an arc in its offset at p.
func (r *run) leverage(p geo.XY) []float64 {
	info, at := r.information(func(sample) float64 { return 0 })
	here := r.columns(p)
	copy(at, here[:])
	choleskyInPlace(info, len(at))
	choleskySolve(info, len(at), at)
	wt := make([]float64, len(r.part))
	for i, q := range r.part {
		for j, c := range r.columns(q.p) {
			if j < len(at) {
				wt[i] += q.wt * at[j] * c
			}
		}
	}
	return wt
}

// swept is the angle of the first of the samples about the centre and the turn
// to the last, both extended to hold all.
func (c circle) swept(part []sample) (from, turn float64) {
	first := part[0].p.Sub(c.center)
	at, lo, hi := 0.0, 0.0, 0.0
	last := first
	for _, q := range part[1:] {
		v := q.p.Sub(c.center)
		at += math.Atan2(last.Cross(v), last.Dot(v))
		lo, hi = math.Min(lo, at), math.Max(hi, at)
		last = v
	}
	from = math.Atan2(first.Y, first.X)
	if at < 0 {
		return from + hi, lo - hi
	}
	return from + lo, hi - lo
}

// hasArc reports whether a run is an arc.
func (sh *shape) hasArc() bool {
	return slices.ContainsFunc(sh.runs, func(r run) bool { return r.arc })
}
