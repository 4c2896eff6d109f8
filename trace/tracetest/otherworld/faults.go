package otherworld

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// faults are what goes wrong with single readings.
type faults struct {
	leaps  float64 // share of positions that leap alone
	bursts int     // runs of neighbouring positions that leap together
	spikes float64 // share of depths that are nonsense
	blanks float64 // share of depths not shown
}

func drawFaults(r rng) faults {
	var f faults
	if r.yes(0.3) {
		f.leaps = r.scale(0.003, 0.02)
	}
	if r.yes(0.06) {
		f.bursts = 1
	}
	if r.yes(0.3) {
		f.spikes = r.scale(0.003, 0.03)
	}
	if r.yes(0.4) {
		f.blanks = r.scale(0.01, 0.15)
	}
	return f
}

// leap is how far a leap goes; multipath reaches metres to a few tens
// (common practice, no source).
func leap(r rng) geo.XY {
	a, d := r.in(0, 2*math.Pi), r.scale(1, 20)
	return geo.XY{X: d * math.Cos(a), Y: d * math.Sin(a)}
}

func displace(rd *tracetest.Reading, by geo.XY) {
	rd.Pos, rd.Truth.LeapM, rd.Truth.Blunder = rd.Pos.Add(by), rd.Truth.LeapM.Add(by), true
}

// spoil puts the faults into readings in the order taken. A check or an
// exposure is made with care and stays as it is.
func (f faults) spoil(r rng, rds []tracetest.Reading) {
	plain := make([]int, 0, len(rds))
	for i, rd := range rds {
		if math.IsNaN(rd.RaiseM) && !rd.Exposed {
			plain = append(plain, i)
		}
	}
	for _, i := range plain {
		rd := &rds[i]
		if r.yes(f.leaps) {
			displace(rd, leap(r))
		}
		switch {
		case r.yes(f.blanks):
			rd.DepthM = math.NaN()
		case r.yes(f.spikes) && !math.IsNaN(rd.DepthM):
			rd.DepthM, rd.Truth.DepthSpike = rd.DepthM*pick(r, r.in(0.2, 0.5), r.in(1.8, 4)), true
		}
	}
	for range f.bursts {
		n := min(3+r.IntN(10), len(plain)/4)
		if n < 2 {
			continue
		}
		first, by := 1+r.IntN(len(plain)-n-1), leap(r)
		for _, i := range plain[first : first+n] {
			displace(&rds[i], by)
			by = by.Add(geo.XY{X: r.gauss(0.05 * by.Norm()), Y: r.gauss(0.05 * by.Norm())})
		}
	}
}
