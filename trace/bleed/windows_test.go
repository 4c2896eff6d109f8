package bleed_test

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// A neighbour that carries signal from a place to the end of a trace of many readings
// does so to the end: where a window of readings lies wholly within, nothing in it
// changes.
func TestLongCouplingGoesOnToTheEnd(t *testing.T) {
	var line bleed.Line
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	nan := math.NaN()
	b := bleed.Path{Name: "B"}
	const readings, fromM = 220, 60
	for i := range readings {
		noise := func(k int) float64 { return pattern[(i+k)%len(pattern)] }
		x := 1.5 * float64(i)
		own := complex(0.1*math.Exp(-0.002*x), 0)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: own}}}
		if x >= fromM {
			s.Lines = append(s.Lines, receiver.Conductor{XM: -1, DepthM: 1, CurrentA: 0.5 * own})
		}
		shown := s.Survey(0, 0.4)
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.01*noise(3)}
		d := shown.DepthM * math.Exp(0.02*noise(0))
		line.Points = append(line.Points, pos)
		line.DepthM, line.SigmaM = append(line.DepthM, d), append(line.SigmaM, 0.03)
		line.Readings = append(line.Readings, trace.Reading{Pos: pos, StationM: x, HAccM: 0.02, Fix: 4, DepthM: d,
			CurrentMA: 1000 * shown.CurrentA * d / shown.DepthM, Signal: nan, SignalLow: nan, SignalHigh: nan,
			NullOffsetM: nan, FreqHz: 8192, Hookup: "direct"})
		b.Points = append(b.Points, geo.XY{X: x, Y: 1})
		b.DepthM, b.SigmaM = append(b.DepthM, 1), append(b.SigmaM, 0.05)
	}
	var coveredM float64
	for _, s := range suspectedOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))) {
		coveredM += math.Max(0, s.ToM-math.Max(s.FromM, fromM))
	}
	if length := 1.5*(readings-1) - fromM; coveredM < 0.9*length {
		t.Errorf("%.0f m of %.0f m are suspected", coveredM, length)
	}
}
