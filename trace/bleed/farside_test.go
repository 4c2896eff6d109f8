package bleed_test

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// closing is a line along X, 1.3 m deep, to which a shallow conductor that nobody drew closes
// up from its left between 40 and 90 m and carries three fifths of its current from there on:
// the locator goes over to it at overM and stays on it, or goes on over the line.
func closing(overM float64) (line bleed.Line, lies []float64) {
	const gapM, lengthM, stepM = 0.4, 168, 1.2
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	line.Name, line.AntennaGapM, line.Exclude = "A", gapM, []int{0}
	station, peak := 0.0, 0.0
	for i := range int(lengthM / stepM) {
		noise := func(k int) float64 { return pattern[(i+k)%len(pattern)] }
		x := stepM * float64(i)
		away := 9 - 7.3*math.Max(0, math.Min(1, (x-40)/50))
		own := 0.04 * math.Exp(-0.001*x)
		if x > overM && peak > -1 {
			peak = -away
		}
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1.3, CurrentA: complex(own, 0)}, {XM: -away, DepthM: 0.5, CurrentA: complex(0.9*own, 0)}}}
		shown := s.Survey(peak, gapM)
		peak = shown.PeakM
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.015*noise(3)}
		if i > 0 {
			station += pos.Dist(line.Points[i-1])
		}
		d := shown.DepthM * math.Exp(0.02*noise(0))
		line.Points, lies = append(line.Points, pos), append(lies, shown.PeakM)
		line.DepthM, line.SigmaM = append(line.DepthM, d), append(line.SigmaM, 0.03)
		r := trace.NewReading()
		r.Pos, r.StationM, r.HAccM, r.Fix, r.DepthM = pos, station, 0.02, 4, d
		r.CurrentMA, r.NullOffsetM, r.FreqHz, r.Hookup = 1000*shown.CurrentA*d/shown.DepthM, shown.NullOffsetM+0.03*noise(5), 512, "direct"
		line.Readings = append(line.Readings, r)
	}
	return line, lies
}

// A receiver that goes over to the other conductor and stays shows a step and, from there on,
// one line with nothing odd about it. What lies before the step tells of the other: past it
// nothing is surer, and the caution there holds the course from before.
func TestFarSideOfALastingStep(t *testing.T) {
	line, lies := closing(91)
	found := suspectedOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})))
	at := func(k int) int {
		return slices.IndexFunc(found, func(s bleed.Stretch) bool {
			return s.FromM <= line.Readings[k].StationM && s.ToM >= line.Readings[k].StationM
		})
	}
	for k := range line.Readings {
		if line.Readings[k].Pos.X < 96 || k > len(line.Readings)-4 {
			continue
		}
		i := at(k)
		if i < 0 {
			t.Fatalf("nothing suspected at %.0f m, %.2f m beside the line: %+v", line.Readings[k].StationM, lies[k], found)
		}
		truth, held := geo.XY{X: line.Readings[k].Pos.X}, -lies[k] <= found[i].WidenRightM
		for _, o := range found[i].Own {
			held = held || math.Abs(geo.NewPolyline(o.Path).Nearest(truth).OffsetM) < slices.Max(o.Half95M)
		}
		if !held {
			t.Fatalf("at %.0f m the line, %.2f m beside the mark, is in no caution: %+v", line.Readings[k].StationM, lies[k], found[i])
		}
	}
}
