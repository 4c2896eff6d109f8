package bleed_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// level is a piece of a line at one depth, from a station on.
type level struct{ fromM, depthM float64 }

// fieldOver is the field across a line of levels and the upright pieces between them, heightM
// above the ground over a station, of a current of one (law of Biot and Savart, in units of
// mu0/2pi).
func fieldOver(levels []level, stationM, heightM float64) float64 {
	sum := 0.0
	for i, l := range levels {
		z, to := l.depthM+heightM, math.Inf(1)
		ahead := 1.0
		if i+1 < len(levels) {
			to = levels[i+1].fromM - stationM
			ahead = to / math.Hypot(to, z)
		}
		from := l.fromM - stationM
		behind := -1.0
		if i > 0 {
			behind = from / math.Hypot(from, z)
			above := levels[i-1].depthM + heightM
			if math.Abs(from) > 1e-9 {
				sum += (z/math.Hypot(from, z) - above/math.Hypot(from, above)) / -from / 2
			}
		}
		sum += (ahead - behind) / z / 2
	}
	return sum
}

// A line that goes up and down by fittings keeps its current, and about each of them depth
// and signal fall out of step by what its own field does there: nothing of that is another
// line's. Readings close together by a receiver that reads steadily show it: without the exact
// shape each of these lines is suspected.
func TestUprightPiecesAreTheLinesOwn(t *testing.T) {
	const gapM = 0.4
	nan := math.NaN()
	suspected, walks := 0, []uint64{0, 8, 10}
	for _, seed := range walks {
		r := rand.New(rand.NewPCG(seed, 77))
		levels := []level{{0, 0.7 + 0.4*r.Float64()}}
		for at := 25 + 10*r.Float64(); at < 125; at += 12 + 25*r.Float64() {
			up := levels[len(levels)-1].depthM
			deeper := up * math.Exp((0.25+0.65*r.Float64())*math.Copysign(1, 1.2-up))
			levels = append(levels, level{at, deeper})
		}
		var line bleed.Line
		line.Name, line.AntennaGapM, line.Exclude = "A", gapM, []int{0}
		for i := range 250 {
			x := 0.6 * float64(i)
			low, high := fieldOver(levels, x, 0), fieldOver(levels, x, gapM)
			d := gapM * high / (low - high) * math.Exp(0.003*r.NormFloat64())
			signal := 1000 * math.Exp(-0.002*x) * low * math.Exp(0.003*r.NormFloat64())
			pos := geo.XY{X: x, Y: 0.02 * r.NormFloat64()}
			line.Points, line.DepthM, line.SigmaM = append(line.Points, geo.XY{X: x}), append(line.DepthM, d), append(line.SigmaM, 0.03)
			line.Readings = append(line.Readings, trace.Reading{Pos: pos, StationM: x, HAccM: 0.02, Fix: 4, DepthM: d, Signal: signal,
				CurrentMA: nan, SignalLow: nan, SignalHigh: nan, NullOffsetM: nan, FreqHz: 8192, Hookup: "direct"})
		}
		for _, s := range detect(t, line, bleed.NewIndex(nil)).Stretches {
			if s.Grade != trace.GradeWatch {
				suspected++
				t.Logf("seed %d: %s from %.0f to %.0f m of %v", seed, s.Grade, s.FromM, s.ToM, levels)
			}
		}
	}
	if suspected > 0 {
		t.Errorf("%d stretches suspected on %d lines alone", suspected, len(walks))
	}
}
