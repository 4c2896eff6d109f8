package fit

import (
	"math"

	"loamline.example/geo"
)

// foot of a sample on the nodes of a run: between node k and k+1 at share u.
type foot struct {
	k int32
	u float32
}

// How far the foot of a sample is looked for. Judgement: two sigmas of a reading along the
// line, and some nodes for the reference's own bends; farther, time alone grows.
const (
	footNodes     = 4
	mostFootNodes = 40
	footSigmas    = 2
	// leastNormal is the least length of the normal between two nodes' own, where those
	// nearly cancel in a hairpin: an offset over less is no offset.
	leastNormal = 0.2
)

// offsets finds the foot of each sample on the nodes and returns how far it
// lies to the left. The search stays near the foot of the sample before.
func (r *run) offsets(s []sample) []float64 {
	r.setNormals()
	e := make([]float64, len(s))
	n := len(r.nodes)
	guess := 0.0
	for i, q := range s {
		if i > 0 {
			guess = float64(r.foot[i-1].k) + float64(r.foot[i-1].u) + (q.stationM-s[i-1].stationM)/r.hM
		}
		reach := footNodes + min(mostFootNodes, int(footSigmas/math.Sqrt(q.wt)/r.hM))
		if i == 0 || !r.seekFoot(i, q.p, max(0, int(guess)-reach), min(n-1, int(guess)+reach+1)) {
			r.seekFoot(i, q.p, 0, n-1)
		}
		f := r.foot[i]
		at := r.nodes[f.k].Lerp(r.nodes[f.k+1], float64(f.u))
		nrm := r.normals[f.k].Lerp(r.normals[f.k+1], float64(f.u))
		e[i] = q.p.Sub(at).Dot(nrm) / math.Max(leastNormal, nrm.Norm())
	}
	return e
}

// seekFoot looks for the foot of a sample on the legs [from, to) between nodes; false where
// there is none.
func (r *run) seekFoot(i int, p geo.XY, from, to int) bool {
	best := math.Inf(1)
	for k := from; k < to; k++ {
		if u, d2 := legFoot2(r.nodes[k], r.nodes[k+1], p); d2 < best {
			best = d2
			r.foot[i] = foot{int32(k), float32(u)}
		}
	}
	return !math.IsInf(best, 1)
}

// legFoot2 is legFoot with the square of the distance.
func legFoot2(a, b, q geo.XY) (u, d2 float64) {
	u = geo.FootShare(a, b, q)
	d := q.Sub(a).Sub(b.Sub(a).Scale(u))
	return u, d.Dot(d)
}

// legFoot returns the share along a leg of the foot of q, and its distance.
func legFoot(a, b, q geo.XY) (u, d float64) {
	u = geo.FootShare(a, b, q)
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
