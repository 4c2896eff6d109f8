package fit

import (
	"fmt"
	"math"
	"sort"
)

// sounding is one depth reading on the line.
type sounding struct {
	station, lnDepth, wt float64
	obs                  int32
	exposed              bool
}

// Depth in the fit.
const (
	antennaGapM     = 0.4  // usual distance of the two antennas
	depthRelPrior   = 0.04 // relative noise of a reading at 1 m, one sigma
	exposedDepthM   = 0.02 // of a tape measure to the open line
	spikeWindow     = 3    // readings to each side
	spikeMAD        = 3.5
	plainDoubt      = 0.004 // what every depth of a receiver may be off, relative
	bendDoubt       = 0.4   // one sigma of a correction for bends, of its size
	endDoubt        = 0.3   // the same where the trace ends, which the line may not
	depthReachSteps = 4.0   // a depth serves this many steps beyond its reading
)

// depths fits the depth along the line and writes it into the vertices.
func (t *traced) depths(readings []Reading, opt Options, vs []Vertex) (rel float64) {
	s := t.soundings(readings)
	t.rejectSpikes(s)
	s = t.withoutSpikes(s)
	if len(s) == 0 {
		return math.NaN()
	}
	bend := newBender(vs)
	lost := t.weighSoundings(s, opt, bend)
	c := t.depthCurve(s)
	reach := math.Max(depthReachSteps*t.w.stepM, 10)
	quantile := studentQuantile(priorDegrees + math.Max(0, float64(len(s))-2))
	for i := range vs {
		if nearestSounding(s, vs[i].StationM) > reach {
			continue
		}
		v, variance := c.at(vs[i].StationM)
		d := math.Exp(v)
		variance += sq(plainDoubt) + sq(bendDoubt*valueAt(s, lost, vs[i].StationM))
		vs[i].DepthM = d
		vs[i].Depth95M = d * math.Expm1(math.Min(3, quantile*math.Sqrt(variance)))
	}
	return math.Sqrt(c.noise)
}

// valueAt takes what is known at the soundings to a station between them.
func valueAt(s []sounding, v []float64, at float64) float64 {
	i := sort.Search(len(s), func(i int) bool { return s[i].station >= at })
	switch {
	case i == 0:
		return v[0]
	case i == len(s):
		return v[len(v)-1]
	}
	u := (at - s[i-1].station) / math.Max(s[i].station-s[i-1].station, 1e-9)
	return v[i-1] + u*(v[i]-v[i-1])
}

// soundings are the usable depths by station.
func (t *traced) soundings(readings []Reading) []sounding {
	var s []sounding
	for i := range t.w.obs {
		o := &t.w.obs[i]
		d := readings[o.index].DepthM
		if o.fate != Used || !(d > 0.02) || d > 50 {
			continue
		}
		s = append(s, sounding{station: o.stationM, lnDepth: math.Log(d), obs: int32(i), exposed: o.exposed})
	}
	sort.SliceStable(s, func(a, b int) bool { return s[a].station < s[b].station })
	return s
}

// rejectSpikes marks depths that stand out from the running median of seven by
// more than 3.5 scaled median deviations (Hampel 1974, JASA 69:383).
func (t *traced) rejectSpikes(s []sounding) {
	res := make([]float64, len(s))
	for i := range s {
		res[i] = s[i].lnDepth - localMedian(s, i)
	}
	global := math.Max(mad(res), 0.02)
	for i := range s {
		if len(s) >= 5 && !s[i].exposed && math.Abs(res[i]) > spikeMAD*math.Max(global, 0.03) && math.Abs(res[i]) > 0.1 {
			t.w.obs[s[i].obs].fate = DepthSpike
		}
	}
}

func localMedian(s []sounding, i int) float64 {
	lo, hi := max(0, i-spikeWindow), min(len(s), i+spikeWindow+1)
	v := make([]float64, 0, 2*spikeWindow+1)
	for k := lo; k < hi; k++ {
		v = append(v, s[k].lnDepth)
	}
	return median(v)
}

func (t *traced) withoutSpikes(s []sounding) []sounding {
	kept := s[:0]
	for _, q := range s {
		if t.w.obs[q.obs].fate == Used {
			kept = append(kept, q)
		}
	}
	return kept
}

// weighSoundings corrects each depth for the bends of the fitted line and gives
// it its weight: relative noise grows as (d+s)/s with the antenna gap s, and
// what had to be corrected, or lies within five depths of the hookup or of an
// end, is doubtful. It returns the corrections.
func (t *traced) weighSoundings(s []sounding, opt Options, bend *bender) []float64 {
	lost := make([]float64, len(s))
	first, last := bend.at[0], bend.at[len(bend.at)-1]
	for i := range s {
		d := math.Exp(s[i].lnDepth)
		if s[i].exposed {
			s[i].wt = sq(depthRelPrior / (exposedDepthM / d))
			continue
		}
		lost[i] = bend.lost(s[i].station, d)
		s[i].lnDepth -= math.Log1p(-lost[i])
		noise := sq(depthRelPrior * (1 + d/antennaGapM) / (1 + 1/antennaGapM))
		doubt := sq(bendDoubt * lost[i])
		doubt += sq(endDoubt * cutOff(math.Min(s[i].station-first, last-s[i].station)/d))
		if opt.Hookup != nil {
			at := t.sh.line.At(s[i].station).Add(t.w.origin)
			doubt += sq(cutOff(at.Dist(*opt.Hookup) / d))
		}
		s[i].wt = sq(depthRelPrior) / (noise + doubt)
	}
	return lost
}

// depthCurve fits ln of the depth, with steps where they pay.
func (t *traced) depthCurve(s []sounding) curve {
	var d curveData
	for _, q := range s {
		d.station, d.y, d.wt = append(d.station, q.station), append(d.y, q.lnDepth), append(d.wt, q.wt)
	}
	first, last := s[0].station-2*t.w.stepM, s[len(s)-1].station+2*t.w.stepM
	h := math.Max(clamp(t.w.stepM/2, 0.4, 2), (last-first)/math.Min(20000, 200+20*float64(len(s))))
	c := fitCurve(d, first, last, h, sq(depthRelPrior))
	for _, at := range stepCandidates(s) {
		with := d
		with.breaks = append(append([]float64(nil), d.breaks...), at)
		if e := fitCurve(with, first, last, h, sq(depthRelPrior)); e.score+3*math.Log(float64(len(s))) < c.score {
			c, d = e, with
		}
	}
	return c
}

// stepCandidates are the places where the mean of the four depths before and
// after differs most: at most six, strongest first.
func stepCandidates(s []sounding) []float64 {
	const k = 4
	type cand struct{ at, jump float64 }
	var c []cand
	for i := k; i+k <= len(s); i++ {
		a, b := 0.0, 0.0
		for j := 0; j < k; j++ {
			a, b = a+s[i-1-j].lnDepth/k, b+s[i+j].lnDepth/k
		}
		c = append(c, cand{(s[i-1].station + s[i].station) / 2, math.Abs(b - a)})
	}
	var out []float64
	for i := range c {
		top := c[i].jump > 0.15
		for j := max(0, i-k); j < min(len(c), i+k+1) && top; j++ {
			top = c[j].jump < c[i].jump || j == i
		}
		if top {
			out = append(out, c[i].at)
		}
	}
	if len(out) > 6 {
		out = out[:6]
	}
	return out
}

func nearestSounding(s []sounding, at float64) float64 {
	i := sort.Search(len(s), func(i int) bool { return s[i].station >= at })
	best := math.Inf(1)
	if i < len(s) {
		best = s[i].station - at
	}
	if i > 0 {
		best = math.Min(best, at-s[i-1].station)
	}
	return best
}

// studentQuantile is the 97.5 % point of Student's t (Hill 1970, CACM 13:617,
// the first terms of the Cornish-Fisher expansion).
func studentQuantile(nu float64) float64 {
	const z = 1.959964
	g1 := (z*z*z + z) / 4
	g2 := (5*math.Pow(z, 5) + 16*z*z*z + 3*z) / 96
	g3 := (3*math.Pow(z, 7) + 19*math.Pow(z, 5) + 17*z*z*z - 15*z) / 384
	return z + g1/nu + g2/(nu*nu) + g3/(nu*nu*nu)
}

// spikeWhy tells what is wrong with a depth.
func spikeWhy(depthM, fitM float64) string {
	if math.IsNaN(fitM) {
		return "depth stands out from the readings around it"
	}
	return fmt.Sprintf("depth %.2f m where the readings around it say %.2f m", depthM, fitM)
}
