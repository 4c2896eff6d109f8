package fit

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// Nodes of an arc lie so close that its chords leave it by no more than arcSagittaM,
// but no more of them than keep the banded system well conditioned. Judgement; only
// leastInArc follows, from the three parameters of a circle and one to contradict them.
const (
	arcSagittaM   = 0.002
	mostArcLegs   = 40
	mostArcPoints = 8 * mostArcLegs // that it is drawn with
	arcRigidity   = 1e3             // how much stiffer than its readings pull it is held to a parabola
	leastInArc    = 4
)

// fitArc fits a circular arc to the samples: Kåsa's circle (1976, IEEE Trans.
// Instrum. Meas. 25:8), then offsets from it that are quadratic in the way along,
// which is what a circle's three parameters do to first order.
func fitArc(part []sample) (run, bool) {
	r := run{part: part, order: 3}
	if len(part) < leastInArc {
		return r, false
	}
	var m moments
	origin := part[0].p
	for _, q := range part {
		m.add(q.p.Sub(origin), q.wt)
	}
	c, _, ok := m.arc()
	c.center = c.center.Add(origin)
	if !ok || c.radius < minRadiusM || c.radius > maxRadiusM {
		return r, false
	}
	from, turn := c.swept(part)
	if math.Abs(turn) > mostTurnedArc || math.Abs(turn)*c.radius < 1e-6 {
		return r, false
	}
	// A chord over a turn of t leaves a circle of radius R by R·t²/8 in its middle. Derived.
	legs := max(3, min(mostArcLegs, int(math.Ceil(math.Abs(turn)/math.Sqrt(8*arcSagittaM/c.radius)))))
	r.hM = math.Abs(turn) * c.radius / float64(legs)
	r.nodes = make([]geo.XY, legs+1)
	for k := range r.nodes {
		sin, cos := math.Sincos(from + turn*float64(k)/float64(legs))
		r.nodes[k] = c.center.Add(geo.XY{X: cos, Y: sin}.Scale(c.radius))
	}
	r.foot = make([]foot, len(part))
	// The gentlest wave of the offsets that is no parabola, half of one over all legs, has
	// third differences of (π/legs)³, and λ is the penalty on their square. Derived.
	stiff := arcRigidity * m.w * math.Pow(float64(legs)/math.Pi, 6)
	r.turn = 1 / (stiff * math.Pow(r.hM, 5)) // derived: weightOf is that λ then
	none := make([]float64, len(r.nodes))
	for range smoothRounds {
		e := r.offsets(part)
		d, _ := r.solve(r.pullsOf(part, e), none, r.turn)
		r.measure(part, e, d)
		for k := range r.nodes {
			r.nodes[k] = r.nodes[k].Add(r.normals[k].Scale(d[k]))
		}
	}
	r.occam = r.arcOccam(part)
	return r, !math.IsNaN(r.rss)
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
	return slices.ContainsFunc(sh.runs, func(r run) bool { return r.order == 3 })
}

// path is the way that a run is drawn. The chords of a long arc would leave it by more
// than it is off. They are what was fitted, so that its nodes lie outside of it by the
// two thirds of their height that a parabola's chord is off on average; places between
// the nodes are those of a cubic through four of them (Dyn, Levin and Gregory 1987,
// CAGD 4:257), and at an end of a parabola.
func (r *run) path() []geo.XY {
	out := r.nodes
	if n := len(out); r.order == 3 && n > 3 && farthestChordM(out) > arcSagittaM {
		out = make([]geo.XY, n)
		for k := range out {
			m := max(1, min(k, n-2))
			inward := r.nodes[m-1].Add(r.nodes[m+1]).Scale(0.5).Sub(r.nodes[m])
			// A parabola's height over two of its chords is four times that over one, and two
			// thirds of the latter are a sixth of the former. Derived.
			out[k] = r.nodes[k].Add(inward.Scale(1.0 / 6))
		}
	}
	for r.order == 3 && len(out) > 3 && farthestChordM(out) > arcSagittaM && len(out) < mostArcPoints {
		fine := make([]geo.XY, 0, 2*len(out)-1)
		for k := range out[1:] {
			a, b := out[k], out[k+1]
			var mid geo.XY
			switch k {
			case 0:
				mid = a.Scale(3).Add(b.Scale(6)).Sub(out[2]).Scale(1.0 / 8) // derived from the parabola through three
			case len(out) - 2:
				mid = b.Scale(3).Add(a.Scale(6)).Sub(out[k-1]).Scale(1.0 / 8) // derived likewise
			default:
				mid = a.Add(b).Scale(9).Sub(out[k-1].Add(out[k+2])).Scale(1.0 / 16) // derived from the cubic through four
			}
			fine = append(fine, a, mid)
		}
		out = append(fine, out[len(out)-1])
	}
	return out
}

// farthestChordM is about how far the chords of a path leave a curve through its
// points.
func farthestChordM(path []geo.XY) float64 {
	most := 0.0
	for k := 1; k+1 < len(path); k++ {
		most = math.Max(most, path[k-1].Add(path[k+1]).Scale(0.5).Dist(path[k])/4)
	}
	return most
}
