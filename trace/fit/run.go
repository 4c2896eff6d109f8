package fit

import (
	"math"

	"loamline.example/geo"
)

// run is a stretch of the line without a corner: a straight line, an arc, or a smooth
// curve held as offsets from a reference path with evenly spaced nodes.
type run struct {
	from, to int      // window of the builder's samples
	part     []sample // those that it is fitted to, by station
	outliers float64  // price of those in the window that it is not
	straight bool
	arc      bool    // neither is a smooth run
	circle   circle  // of an arc
	mid      geo.XY  // the direction of its middle from the centre
	hM       float64 // distance between the nodes
	nodes    []geo.XY
	normals  []geo.XY // unit, to the left of travel
	foot     []foot   // of each sample on the nodes
	turn     float64  // variance of the turn in rad²/m (q) of a smooth run
	factor   *banded  // of BᵀWB + λDᵀD
	rss      float64  // weighted
	edf      float64
	occam    float64 // -2 ln of its Occam factor, in the noise it was cut with
}

// score is Schwarz's criterion of the run: runs are proposed by it, for it cuts
// finely, and the criterion of the whole decides between the shapes.
func (r *run) score(price float64) float64 { return r.rss + r.params()*price + r.outliers }

// params is the number of parameters that a run costs: its own, where it starts,
// and arcOdds more for an arc, which is rarer than a straight.
func (r *run) params() float64 {
	if r.arc {
		return r.edf + 1 + arcOdds
	}
	return r.edf + 1
}

// arcOdds is by how many parameters an arc is the rarer. Judgement: fewer make arcs of
// straights that are noisy.
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
		lo, hi = min(lo, t), max(hi, t)
	}
	if hi-lo < 1e-9 {
		hi = lo + 1e-9
	}
	r := run{part: part, straight: true, rss: rss, edf: 2, hM: hi - lo, occam: m.lineOccam()}
	r.nodes = []geo.XY{l.at.Add(l.dir.Scale(lo)), l.at.Add(l.dir.Scale(hi))}
	n := geo.XY{X: -l.dir.Y, Y: l.dir.X}
	r.normals = []geo.XY{n, n}
	return r
}

// trend is the direction in which the samples run.
func trend(s []sample, l straight) geo.XY {
	mean := 0.0
	for _, q := range s {
		mean += q.stationM
	}
	mean /= float64(len(s))
	var v geo.XY
	for _, q := range s {
		v = v.Add(q.p.Sub(l.at).Scale(q.stationM - mean))
	}
	return v
}
