package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// signature is one coupling hypothesis over a window: what the columns would
// show, relative to no coupling, reading by reading.
type signature struct {
	share  float64 // of the line's current on the neighbour; negative: opposed
	prior  float64 // log weight among the signatures of its neighbour
	u      float64 // unknown neighbour: distance in depths; else sigmas off
	depth2 float64 // factor on the neighbour's assumed depth
	ok     []bool
	d      []float64 // log depth
	s      []float64 // log signal
	n      []float64 // null offset, metres
	shift  []float64 // mark minus true line, metres
}

// shares are the currents tried on a neighbour, as parts of the line's own: a grid,
// judgement.
var shares = []float64{-0.85, -0.6, -0.42, -0.28, -0.16, 0.16, 0.28, 0.42, 0.6, 0.85}

// Grids of starting points, which a fit moves, as parts of the line's depth: depths of a
// drawn neighbour that nobody read, and distances and depths of one that nobody drew. Judgement.
var (
	unknownDepths = []float64{0.7, 1, 1.4}
	undrawnAside  = []float64{0.5, 0.9, 1.6}
	undrawnDepths = []float64{0.75, 1.3}
)

// signatures lists the hypotheses for a neighbour over readings [lo, hi): a known
// one stands as far off as it is drawn, and by the given numbers of sigmas
// farther to the right.
func (e neighbour) signatures(col *columns, lo, hi int, moves ...float64) []signature {
	if e.at == nil {
		return unknownSignatures(col, lo, hi)
	}
	var out []signature
	for _, move := range moves {
		for _, f := range e.depthFactors(lo, hi) {
			for _, r := range shares {
				if sg, ok := e.signature(col, lo, hi, move, f, r); ok {
					sg.u, sg.depth2 = move, f
					sg.prior = -0.5 * move * move
					out = append(out, sg)
				}
			}
		}
	}
	return out
}

// depthFactors are the neighbour's depths tried: its own where known, else
// shallower, level and deeper.
func (e neighbour) depthFactors(lo, hi int) []float64 {
	for k := lo; k < hi; k++ {
		if !math.IsNaN(e.at[k].depthM) {
			return []float64{1}
		}
	}
	return unknownDepths
}

// The line's own log current changes where a neighbour shares it: by a bond it
// loses what the neighbour carries the same way; induced or returning current
// leaves it much as it was. Mean per share, and one sigma. Judgement.
func (g signature) sharingMean() float64 { return -0.2 * max(0, g.share) }

// The floor of that sigma, and how it grows with a share that flows the same way or the
// other. Judgement; params.sharingSD has a little more of each, for what is fitted.
const (
	coarseFloorSD   = 0.02
	coarseSameSD    = 0.3
	coarseOpposedSD = 0.15
)

func (g signature) sharingSD() float64 {
	if g.share > 0 {
		return coarseFloorSD + coarseSameSD*g.share
	}
	return coarseFloorSD - coarseOpposedSD*g.share
}

// leastAsideTried is how near, in depths, a neighbour is tried that is drawn to one side:
// nearer, its signature is all but that of more current. Judgement; leastAsideFitted is
// what a fit may go to.
const leastAsideTried = 0.15

func newSignature(r float64, n int) signature {
	return signature{share: r, ok: make([]bool, n), d: make([]float64, n), s: make([]float64, n),
		n: make([]float64, n), shift: make([]float64, n)}
}

func (g *signature) set(i int, p response) {
	g.ok[i], g.d[i], g.s[i], g.n[i], g.shift[i] = true, p.lnDepth, p.lnField+g.sharingMean(), p.nullM, p.shiftM
}

func (e neighbour) signature(col *columns, lo, hi int, move, depthFactor, r float64) (signature, bool) {
	g := newSignature(r, hi-lo)
	some := false
	for k := lo; k < hi; k++ {
		if !e.parallelAt(k, col) {
			continue
		}
		at := e.at[k]
		d2 := at.depthM
		if math.IsNaN(d2) {
			d2 = depthFactor * col.depth[k]
		}
		a := at.asideM + move*at.sigmaM
		if at.asideM*a < 0 || math.Abs(a) < leastAsideTried*col.depth[k] {
			a = math.Copysign(leastAsideTried*col.depth[k], at.asideM)
		}
		if p, ok := col.marked(receiver.AtMark(col.depth[k], col.gapM, a, d2, r)); ok {
			g.set(k-lo, p)
			some = true
		}
	}
	return g, some
}

// unknownSignatures places a neighbour of the line's own depth, or somewhat
// shallower or deeper, at fixed distances in depths on either side.
func unknownSignatures(col *columns, lo, hi int) []signature {
	var out []signature
	for _, u := range undrawnAside {
		for _, f := range undrawnDepths {
			for _, r := range shares {
				for _, side := range []float64{-1, 1} {
					if g, ok := unknownSignature(col, lo, hi, side*u, f, r); ok {
						g.u, g.depth2 = side*u, f
						out = append(out, g)
					}
				}
			}
		}
	}
	return out
}

// sameDepthRel is by how much less than which a depth differs to show the same, which
// saves time: a fiftieth is less than its error. Judgement.
const sameDepthRel = 0.02

func unknownSignature(col *columns, lo, hi int, u, f, r float64) (signature, bool) {
	g := newSignature(r, hi-lo)
	var last response
	lastDepth, ok := math.NaN(), false
	for k := lo; k < hi; k++ {
		d := col.depth[k]
		if !(math.Abs(d-lastDepth) < sameDepthRel*d) {
			last, ok = col.marked(receiver.AtMark(d, col.gapM, u*d, f*d, r))
			if !ok {
				return g, false
			}
			lastDepth = d
		}
		g.set(k-lo, last)
	}
	return g, true
}
