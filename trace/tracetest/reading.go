package tracetest

import (
	"math"

	"loamline.example/geo"
)

// compare fills in what the peak would be without noise, with and without the
// neighbours.
func (w *walk) compare(t *ReadingTruth, st stance, see sight) {
	gap, scale := w.job.AntennaGapM, math.Max(t.DepthM, 0.4)
	lateral := func(crossM float64) float64 {
		p := st.guide.Add(right(st.face).Scale(crossM))
		return w.line.Path.NearestWithin(p, t.StationM-10, t.StationM+10).OffsetM
	}
	t.PeakShiftM = lateral(see.peakM)
	t.NullResidual = see.residualNullFrac
	clean := see
	if len(w.supply.couplings) > 0 {
		at := w.line.Path.At(t.StationM)
		clean = w.alone.look(stance{at, st.face}, 0, 0, 0, gap, scale)
		t.CleanShiftM = clean.peakM
	} else {
		t.CleanShiftM = t.PeakShiftM
	}
	// At the peak itself and on the ground, whatever was done for this reading.
	depthAt := func(sc scene, s stance, x float64) float64 {
		d, _ := twoAntenna(sc.horizontal(s, x, 0), sc.horizontal(s, x, gap), gap)
		return d
	}
	t.ShownDepthM = depthAt(w.all, st, see.peakM)
	t.CleanDepthM = t.ShownDepthM
	if len(w.supply.couplings) > 0 {
		t.CleanDepthM = depthAt(w.alone, stance{w.line.Path.At(t.StationM), st.face}, clean.peakM)
	}
}

// ambientT is the noise that each antenna hears with the transmitter off, one
// sigma in tesla (judged; no source).
const ambientT = 5e-12

// shown turns a sight into what the instruments display.
func (w *walk) shown(s stop, see sight) Reading {
	r := w.r
	rd := Reading{
		Line: w.line.Name, TimeS: s.timeS, Fix: s.fix, HDOP: w.pos.hdop(s.fix), HAccM: w.pos.stated(s.sigmaM),
		FreqHz: w.freqHz, Hookup: w.hookup, Phase: 1,
	}
	low := see.lowT*(1+r.norm(w.antennaRel)) + r.norm(ambientT)
	high := see.highT*(1+r.norm(w.antennaRel)) + r.norm(ambientT)
	rd.SignalLow, rd.SignalHigh = low*w.gain, high*w.gain
	depth, amps := twoAntenna(low, high, w.job.AntennaGapM)
	rd.DepthM = depth * math.Exp(r.norm(w.depthRel)+w.scale)
	rd.CurrentMA = 1000 * amps * math.Exp(r.norm(w.currentRel))
	if rd.DepthM > 30 {
		rd.DepthM, rd.CurrentMA = math.NaN(), math.NaN()
	}
	sense := 1.0
	if s.reverse {
		sense = -1
	}
	rd.NullOffsetM = sense * (see.nullM + r.norm(w.nullM) - see.heldM)
	if real(see.phase) < 0 != r.chance(0.005) {
		rd.Phase = -1
	}
	return rd
}

// open measures the line where it was dug up: to the centre of the conductor,
// with the same positioning receiver and a rule.
func (w *walk) open(s stop) Reading {
	at := w.line.Path.At(s.stationM)
	e, up := w.pos.errorAt(s.timeS, s.sigmaM)
	nan := math.NaN()
	t := w.truth(s, nil)
	return Reading{
		Line: w.line.Name, TimeS: s.timeS, Pos: at.Add(e), ElevM: 20 + w.slope.Dot(at) + up, Fix: s.fix,
		HDOP: w.pos.hdop(s.fix), HAccM: w.pos.stated(s.sigmaM), DepthM: t.DepthM + w.r.norm(0.01),
		CurrentMA: nan, SignalLow: nan, SignalHigh: nan, RaiseM: nan, NullOffsetM: nan,
		FreqHz: nan, Exposed: true, Note: "dug open, measured to the centre", Truth: t,
	}
}

// spoil puts in the blunders and the spikes.
func (w *walk) spoil(rds []Reading) {
	r := w.r
	var leap geo.XY
	left := 0
	for i := range rds {
		rd := &rds[i]
		if rd.Exposed || !math.IsNaN(rd.RaiseM) {
			continue
		}
		// A burst of about 1.3 readings on average keeps the asked share.
		if left == 0 && r.chance(w.blunders/1.3) {
			left = 1
			if r.chance(0.2) {
				left = 2 + r.IntN(2)
			}
			a := r.between(0, 2*math.Pi)
			leap = geo.XY{X: math.Cos(a), Y: math.Sin(a)}.Scale(r.ratio(1, 20))
		}
		if left > 0 {
			left--
			rd.Truth.Blunder, rd.Truth.LeapM = true, leap
			rd.Pos = rd.Pos.Add(leap)
		}
		if r.chance(w.spikes) {
			rd.Truth.DepthSpike = true
			f := oneOf(r, r.between(1.6, 4), r.between(0.25, 0.6))
			rd.DepthM *= f
			rd.CurrentMA *= f
		}
	}
}
