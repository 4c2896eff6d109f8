package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// A coupling is one coupled stretch with its parameters free: where it starts
// and ends, how sharply, what share flows on the neighbour and how that share
// changes along the stretch, how far off and how deep the neighbour is, and by
// how much the line's own current changes. The order is that of the p vector.
const (
	pFrom   = iota // station, metres
	pTo            // station, metres
	pEdge          // log of the length over which the share sets in, metres
	pShare         // of the line's current on the neighbour
	pTilt          // change of the share from the stretch's one end to its other
	pBulge         // change of the share from its ends to its middle
	pAside         // neighbour's distance: sigmas (known), or log of depths (unknown)
	pDepth2        // log of the neighbour's depth over what is assumed
	pOwn           // log change of the line's own current inside
	pCount
)

type params [pCount]float64

// coupler evaluates couplings of one neighbour over a window.
type coupler struct {
	col    *columns
	e      neighbour
	lo, hi int
	sideU  float64   // unknown neighbour: signed distance in depths at which pAside is 0
	bridge []float64 // neighbour's distance from the line as about the stretch; nil to go by the marks
	lnD    []float64
	mean   params // prior
	sd     params
}

// effect is a coupling's mark on one reading, and how it changes with share,
// distance and the neighbour's depth.
type effect struct {
	response
	byShare, byAside, byDepth2 response
	share, edge                float64
	shareBy                    params // of share
	edgeBy                     params // of edge
}

func newCoupler(col *columns, e neighbour, lo, hi int, u float64, start params) *coupler {
	c := &coupler{col: col, e: e, lo: lo, hi: hi, sideU: u, lnD: col.localDepth(lo, hi, 4)}
	length := col.rd[hi-1].StationM - col.rd[lo].StationM
	mid := (col.rd[hi-1].StationM + col.rd[lo].StationM) / 2
	c.mean = params{pFrom: mid, pTo: mid, pEdge: math.Log(usualEdgeM), pOwn: start[pOwn]}
	c.sd = params{pFrom: length/2 + 10, pTo: length/2 + 10, pEdge: edgeSD, pShare: 0.5,
		pTilt: unevenSD + unevenPart*math.Abs(start[pShare]), pBulge: unevenSD + unevenPart*math.Abs(start[pShare]),
		pAside: 1, pDepth2: knownDepthSD, pOwn: start.sharingSD()}
	if e.at == nil {
		c.sd[pAside], c.sd[pDepth2] = unknownAsideSD, unknownDepthSD
	} else if math.IsNaN(e.at[(lo+hi)/2].depthM) {
		c.sd[pDepth2] = unknownDepthSD
	}
	return c
}

// What is expected of a coupling before it is fitted, one sigma each: over what length the
// share sets in, and its log; how much the share changes along the stretch, in parts of the
// line's current and of the share itself; the logs of how far off and how deep a neighbour
// lies of which that is not known. Judgement: wider ones fit what the line does by itself,
// narrower ones miss neighbours that are no straight wire.
const (
	usualEdgeM     = 1.5
	edgeSD         = 0.7
	unevenSD       = 0.05
	unevenPart     = 0.15
	unknownAsideSD = 0.4
	unknownDepthSD = 0.3
)

// How far the log of the line's own current may change beside signature.sharingMean,
// one sigma: in any case, and for each part of it on the neighbour that flows the same way,
// which a bond may take from the line, or the other way. Judgement, each a little more than
// signature.sharingSD has it, which weighs coarse shapes.
const (
	sharingFloorSD   = 0.03
	sharingSameSD    = 0.35
	sharingOpposedSD = 0.2
)

func (p params) sharingSD() float64 {
	if p[pShare] > 0 {
		return sharingFloorSD + sharingSameSD*p[pShare]
	}
	return sharingFloorSD - sharingOpposedSD*p[pShare]
}

// localDepth is the log of depth as read about each reading: a running median
// over so many to either side, coupling not yet taken out.
func (c *columns) localDepth(lo, hi, aside int) []float64 {
	out := make([]float64, hi-lo)
	var buf []float64
	for k := lo; k < hi; k++ {
		buf = buf[:0]
		for i := max(0, k-aside); i <= min(len(c.rd)-1, k+aside); i++ {
			if c.varD[i] < nothing && !math.IsNaN(c.lnD[i]) {
				buf = append(buf, c.lnD[i])
			}
		}
		out[k-lo] = math.Log(c.depth[k])
		if len(buf) >= min(3, 1+aside) {
			out[k-lo] = median(buf)
		}
	}
	return out
}

// edge is the part of the coupling present at a station, smooth as the field
// sees a step of current, with its derivatives.
func (p params) edge(stationM float64) (e float64, by params) {
	h := math.Exp(p[pEdge])
	a, b := stationM-p[pFrom], p[pTo]-stationM
	ea, eb := receiver.HalfLine(a, h), receiver.HalfLine(b, h)
	da, db := receiver.HalfLineSlope(a, h), receiver.HalfLineSlope(b, h)
	by[pFrom], by[pTo] = -da*eb, ea*db
	by[pEdge] = -(da*a*eb + ea*db*b) // HalfLine depends on along/h
	return ea * eb, by
}

// shareAt is the share at a station with its derivatives.
func (p params) shareAt(stationM float64) (share, e float64, by, edgeBy params) {
	e, edgeBy = p.edge(stationM)
	length := math.Max(p[pTo]-p[pFrom], 1)
	t := math.Max(-1, math.Min(1, 2*(stationM-p[pFrom])/length-1))
	f := p[pShare] + p[pTilt]*t + p[pBulge]*(0.5-t*t)
	for i := range by {
		by[i] = f * edgeBy[i]
	}
	by[pShare], by[pTilt], by[pBulge] = e, e*t, e*(0.5-t*t)
	return f * e, e, by, edgeBy
}

// leastShare is the share of the line's current whose effect is less than any receiver
// shows: on depth and current at most 1.13 times the share, beside a neighbour of the
// line's own depth (2ru²/(1+u²)² and r(1+3u²)/(1+u²)² u depths away, by superposition).
// Judgement.
const leastShare = 0.004

// effects evaluates a coupling over the window, with how it changes. It is not ok where the
// model breaks down: the mark would slide onto the neighbour.
func (c *coupler) effects(p params, last []effect) ([]effect, bool) {
	out, ok := c.responses(p, last)
	return out, ok && c.slopes(out, p)
}

// responses are the effects but for how they change, which takes three times as long and is
// asked for only where a fit goes on from there.
func (c *coupler) responses(p params, last []effect) ([]effect, bool) {
	out := make([]effect, c.hi-c.lo)
	for i := range out {
		k := c.lo + i
		x := &out[i]
		x.share, x.edge, x.shareBy, x.edgeBy = p.shareAt(c.col.rd[k].StationM)
		if !c.felt(x, k) {
			continue
		}
		start := 0.0
		if last != nil {
			start = last[i].lnDepth
		}
		var ok bool
		if x.response, ok = c.respond(k, x.share, p[pAside], p[pDepth2], start); !ok {
			return nil, false
		}
	}
	return out, true
}

func (c *coupler) slopes(eff []effect, p params) bool {
	for i := range eff {
		if x := &eff[i]; c.felt(x, c.lo+i) && !c.slopesAt(x, c.lo+i, p) {
			return false
		}
	}
	return true
}

// felt reports whether the neighbour is felt at a reading.
func (c *coupler) felt(x *effect, k int) bool {
	if math.Abs(x.share) < leastShare {
		return false
	}
	return c.e.at == nil || !math.IsNaN(c.e.at[k].asideM) && !c.e.at[k].crossing
}

// bridgeM is how far before and behind a stretch the neighbour's distance is taken, and
// slidDepths by how much of a depth that within it must differ: less makes no difference
// that is worth another fit. Judgement.
const (
	bridgeM    = 14
	slidDepths = 0.15
)

// bridged returns a coupler that takes the neighbour's distance from the line
// as it is about the stretch [fromM, toM], rather than from marks that may have
// slid far towards the neighbour within it. It is not ok where that makes no
// difference or where there is nothing about the stretch to go by.
func (c *coupler) bridged(fromM, toM float64) (*coupler, bool) {
	var before, after, inside []float64
	for k := c.lo; k < c.hi; k++ {
		a, s := c.e.at[k].asideM, c.col.rd[k].StationM
		switch {
		case math.IsNaN(a):
		case s < fromM-2 && s > fromM-bridgeM:
			before = append(before, a)
		case s > toM+2 && s < toM+bridgeM:
			after = append(after, a)
		case s > fromM+2 && s < toM-2:
			inside = append(inside, a)
		}
	}
	if len(inside) < 3 || len(before)+len(after) < 3 {
		return nil, false
	}
	a, b := math.NaN(), math.NaN()
	if len(before) >= 2 {
		a = median(before)
	}
	if len(after) >= 2 {
		b = median(after)
	}
	if math.IsNaN(a) {
		a = b
	}
	if math.IsNaN(b) {
		b = a
	}
	depth := c.col.depth[(c.lo+c.hi)/2]
	if m := median(inside); !(math.Abs((a+b)/2-m) > slidDepths*depth) || a*b < 0 || math.Abs(a-b) > 0.5*depth {
		return nil, false
	}
	out := *c
	out.bridge = make([]float64, c.hi-c.lo)
	for i := range out.bridge {
		t := math.Max(0, math.Min(1, (c.col.rd[c.lo+i].StationM-fromM)/(toM-fromM)))
		out.bridge[i] = a + t*(b-a)
	}
	return &out, true
}

func (r response) minus(o response, by float64) response {
	return response{(r.shiftM - o.shiftM) / by, (r.nullM - o.nullM) / by, (r.lnDepth - o.lnDepth) / by, (r.lnField - o.lnField) / by}
}

// gradient is how one part of the response changes with the parameters.
func (x *effect) gradient(of func(response) float64) params {
	var g params
	bs := of(x.byShare)
	for i := range g {
		g[i] = bs * x.shareBy[i]
	}
	g[pAside] += of(x.byAside)
	g[pDepth2] += of(x.byDepth2)
	return g
}

func shiftOf(r response) float64 { return r.shiftM }
func nullOf(r response) float64  { return r.nullM }
func depthOf(r response) float64 { return r.lnDepth }
func fieldOf(r response) float64 { return r.lnField }
