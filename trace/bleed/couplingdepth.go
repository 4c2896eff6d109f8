package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// slopesAt evaluates how the response of one reading changes, by small differences.
func (c *coupler) slopesAt(x *effect, k int, p params) bool {
	const ds, da, dd = 0.01, 0.02, 0.02 // judgement, on the numerical method
	s, ok1 := c.respond(k, x.share-math.Copysign(ds, x.share), p[pAside], p[pDepth2], x.lnDepth)
	a, ok2 := c.respond(k, x.share, p[pAside]+da, p[pDepth2], x.lnDepth)
	d, ok3 := c.respond(k, x.share, p[pAside], p[pDepth2]+dd, x.lnDepth)
	if !ok1 || !ok2 || !ok3 {
		return false
	}
	x.byShare = x.response.minus(s, math.Copysign(ds, x.share))
	x.byAside = a.minus(x.response, da)
	x.byDepth2 = d.minus(x.response, dd)
	return true
}

// depthTolerance is how well, in logs, the true depth of a coupled reading is
// solved for, by at most depthSteps steps of at most mostDepthStep, so that a secant
// overshoots into no depth without a solution. Judgement, on the numerical method.
const (
	depthTolerance = 2e-3
	depthSteps     = 8
	mostDepthStep  = 0.3
)

// respond returns the response of the line whose depth, as the coupling makes
// it read, is the one read at k: the depth read there is falsified by the coupling itself.
// It is sought by secants, from the effect on log depth at start.
func (c *coupler) respond(k int, share, aside, d2, start float64) (response, bool) {
	shown := c.lnD[k-c.lo]
	l := start
	var lastL, lastOff float64
	for i := range depthSteps {
		p, ok := c.respondAt(k, math.Exp(shown-l), share, aside, d2)
		if !ok {
			break
		}
		off := p.lnDepth - l
		if math.Abs(off) < depthTolerance {
			return p, true
		}
		step := off
		if i > 0 && math.Abs(lastOff-off) > 1e-9 {
			step = off * (l - lastL) / (lastOff - off)
		}
		lastL, lastOff = l, off
		l += math.Max(-mostDepthStep, math.Min(mostDepthStep, step))
	}
	return c.respondAt(k, math.Exp(shown-start), share, aside, d2)
}

// leastAsideFitted is how near, in depths, a neighbour may be fitted that is drawn to one
// side: nearer, the two are one conductor to the field, and it is not let over to the
// other side. Judgement; leastAsideTried is what signatures go to.
const leastAsideFitted = 0.1

// respondAt is the response at reading k of a line depthM deep.
func (c *coupler) respondAt(k int, depthM, share, aside, d2 float64) (response, bool) {
	if c.e.at == nil {
		return c.col.marked(receiver.AtLine(depthM, c.col.gapM, c.sideU*depthM*math.Exp(aside), depthM*math.Exp(d2), share))
	}
	at := c.e.at[k]
	depth2 := at.depthM
	if math.IsNaN(depth2) {
		depth2 = depthM
	}
	depth2 *= math.Exp(d2)
	if c.bridge != nil {
		return c.col.marked(receiver.AtLine(depthM, c.col.gapM, c.bridge[k-c.lo]+aside*at.sigmaM, depth2, share))
	}
	a := at.asideM + aside*at.sigmaM
	if a*at.asideM < 0 || math.Abs(a) < leastAsideFitted*depthM {
		a = math.Copysign(leastAsideFitted*depthM, at.asideM)
	}
	return c.col.marked(receiver.AtMark(depthM, c.col.gapM, a, depth2, share))
}
