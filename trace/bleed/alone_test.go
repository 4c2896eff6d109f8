package bleed_test

import (
	"fmt"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// alone is a line along X by itself, read every 1.5 m with two antennas 0.5 m
// apart of which the lower stands 5 cm above the ground, as the field of a thin
// wire bent in depth is by Biot and Savart. Depths are shown to the step.
func alone(depthM, currentA func(xM float64) float64, stepM float64) bleed.Line {
	const gapM, footM, lengthM = 0.5, 0.05, 120
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	nan := math.NaN()
	w := receiver.Wire{}
	for x := -300.0; x <= lengthM+300; x += 0.5 {
		at := math.Max(0, math.Min(lengthM, x))
		if len(w.Points) > 0 {
			w.PieceA = append(w.PieceA, currentA(at))
		}
		w.Points = append(w.Points, receiver.Point{X: x, Z: -depthM(at)})
	}
	var line bleed.Line
	line.Name, line.AntennaGapM, line.Exclude = "A", gapM, []int{0}
	for i := 0; 1.5*float64(i) <= lengthM; i++ {
		x := 1.5 * float64(i)
		noise := func(k int) float64 { return pattern[(i+k)%len(pattern)] }
		low := math.Abs(w.B(receiver.Point{X: x, Z: footM}).Y) * (1 + 0.003*noise(0))
		high := math.Abs(w.B(receiver.Point{X: x, Z: footM + gapM}).Y) * (1 + 0.003*noise(4))
		d := receiver.TwoAntennaDepthM(low, high, gapM)
		shown := math.Round((d-footM)/stepM) * stepM
		pos := geo.XY{X: x, Y: 0.01 * noise(7)}
		line.Points = append(line.Points, pos)
		line.DepthM, line.SigmaM = append(line.DepthM, depthM(x)), append(line.SigmaM, 0.03)
		line.Readings = append(line.Readings, trace.Reading{
			Pos: pos, StationM: x, HAccM: 0.02, Fix: 4, DepthM: shown, CurrentMA: 1000 * receiver.CurrentA(low, d),
			Signal: nan, SignalLow: 1e9 * low, SignalHigh: 1e9 * high, NullOffsetM: 0.02 * noise(2),
			FreqHz: 8192, Hookup: "direct",
		})
	}
	return line
}

// What a line does by itself is no sign of a line that nobody drew: it dives under
// a road, rises over a duct, shows its depth on steps of a decimetre, and its
// current dies away to an insulated end (as sinh of the distance left; Sunde, Earth
// Conduction Effects in Transmission Systems, from memory).
func TestLineAloneIsNoNeighbour(t *testing.T) {
	steady := func(float64) float64 { return 0.1 }
	between := func(x, from, to float64) float64 { return math.Max(0, math.Min(1, (x-from)/(to-from))) }
	excursion := func(otherM, rampM float64) func(float64) float64 {
		return func(x float64) float64 {
			return 0.6 + (otherM-0.6)*(between(x, 50, 50+rampM)-between(x, 60+rampM, 60+2*rampM))
		}
	}
	for _, stepM := range []float64{0.01, 0.1} {
		for _, rampM := range []float64{4, 6, 10} {
			for _, otherM := range []float64{0.3, 1.5, 2.5} {
				quiet(t, fmt.Sprintf("from 0.6 to %.1f m over %.0f m, shown to %.2f m", otherM, rampM, stepM), alone(excursion(otherM, rampM), steady, stepM))
			}
		}
	}
	for _, endM := range []float64{125, 150} {
		open := func(x float64) float64 { return 0.1 * math.Sinh((endM-x)/60) / math.Sinh(endM/60) }
		wavy := func(x float64) float64 { return 1 + 0.15*math.Sin(x/7) }
		quiet(t, fmt.Sprintf("open end at %.0f m", endM), alone(wavy, open, 0.01))
	}
}

func quiet(t *testing.T, name string, line bleed.Line) {
	t.Helper()
	for _, s := range detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches {
		if s.Grade != trace.GradeWatch {
			t.Errorf("%s: %s %.2f %s from %.0f to %.0f m: %v", name, s.Grade, s.Score, s.Neighbor, s.FromM, s.ToM, s.Evidence)
		}
	}
}
