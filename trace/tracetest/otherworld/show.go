package otherworld

import (
	"math"
	"math/cmplx"

	"loamline.example/trace/tracetest"
)

// instrument writes what the receiver shows.
func (st *site) instrument(rd *tracetest.Reading, p spot, x, tilt, raiseM float64, r rng) {
	rc := st.receiver
	low, high := rc.antennas(p.all, x, raiseM, tilt)
	faint := low < rc.blindT
	low, high = low*(1+r.gauss(rc.antenna)), high*(1+r.gauss(rc.antenna))
	rd.SignalLow, rd.SignalHigh = low*rc.gain, high*rc.gain
	var d float64
	switch rc.rule {
	case ratio, total:
		d = rc.fromAntennas(low, high)
	default:
		d = rc.depth(p.all, x, raiseM, tilt)
	}
	own := (1 + rc.scaleRel) * (1 + r.gauss(rc.depthRel))
	if d > 0.05 && d < 12 && !faint {
		d *= st.ground(d) * own
	} else {
		d = math.NaN()
	}
	rd.DepthM = rc.shown(d)
	rd.CurrentMA = math.Round(1e4*(d+rc.footM)*low/(mu0/2/math.Pi)*rc.currentAt) / 10
	rd.NullOffsetM = math.NaN()
	if st.habit != byNull && raiseM == 0 && st.gait.zigM == 0 && !r.yes(0.03) {
		n := p.found.null - p.found.peak + r.gauss(0.015+0.02*rd.Truth.DepthM+0.15*p.found.floor*rd.Truth.DepthM)
		if rd.Truth.Reverse {
			n = -n
		}
		rd.NullOffsetM = math.Round(100*n) / 100
	}
	rd.Phase = 1
	if i := st.feed.at(rd.Truth.StationM); i != 0 && real(p.found.toward*cmplx.Conj(i)) < 0 {
		rd.Phase = -1
	}
	if r.yes(0.01) {
		rd.Phase = -rd.Phase
	}
}
