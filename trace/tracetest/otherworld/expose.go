package otherworld

import (
	"math"

	"loamline.example/trace/tracetest"
)

// expose digs the line up, or something else in its place.
func (st *site) expose(v visit, errs *drift, r rng, wrong bool) tracetest.Reading {
	p, right := st.line.Path.At(v.stationM), across(st.line.Path, v.stationM, 0.75)
	depth := st.line.DepthAt(v.stationM)
	rd := tracetest.Reading{
		TimeS: v.timeS, RaiseM: math.NaN(), Exposed: true, Note: "exposed", DepthM: math.Round(100*(depth+r.gauss(0.01))) / 100,
		CurrentMA: math.NaN(), SignalLow: math.NaN(), SignalHigh: math.NaN(), NullOffsetM: math.NaN(), FreqHz: st.freqHz, Hookup: st.hookup,
	}
	rd.Truth = tracetest.ReadingTruth{
		StationM: v.stationM, DepthM: depth, ShownDepthM: depth, CleanDepthM: depth, Pass: v.pass, Reverse: v.back,
		NearCorner: st.nearCorner(v.stationM, depth),
	}
	st.locate(&rd, p, errs)
	if wrong {
		displace(&rd, right.Scale(r.side()*r.in(0.5, 2)))
		rd.Truth.DepthSpike = true
		rd.DepthM = math.Max(0.2, rd.DepthM+r.side()*r.in(0.25, 0.7))
	}
	return rd
}
