package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// Depths that go over to another level and back, and the current with them at either end, are
// not the line's, however the current swells or falls on the way there; those with which the
// current stays are, and so is one that steps with the depth at neither end.
func TestDepthsThatTakeTheCurrentAlong(t *testing.T) {
	const gapM, stepM = 0.4, 1.5
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	runs := func(depthM, times, swell float64) int {
		line := Line{Path: Path{Name: "A"}, AntennaGapM: gapM}
		for i := range 80 {
			noise := func(k int) float64 { return pattern[(i+k)%len(pattern)] }
			x := stepM * float64(i)
			c := receiver.Conductor{DepthM: 0.8, CurrentA: complex(0.01*math.Exp(-0.002*x), 0)}
			if x > 40 && x < 80 {
				c.DepthM, c.CurrentA = depthM, c.CurrentA*complex(times, 0)
			} else {
				c.CurrentA *= complex(1+swell*math.Exp(-math.Max(40-x, x-80)/12), 0)
			}
			shown := receiver.Section{Lines: []receiver.Conductor{c}}.Survey(0, gapM)
			r := trace.NewReading()
			r.Pos, r.StationM, r.HAccM, r.Fix, r.Status = geo.XY{X: x, Y: 0.2 * noise(3)}, x, 0.4, 2, trace.StatusUsed
			r.DepthM = shown.DepthM * math.Exp(0.03*noise(0))
			r.CurrentMA, r.Signal = 1000*shown.CurrentA*math.Exp(0.02*noise(5)), 1e9*shown.LowT*math.Exp(0.01*noise(2))
			line.Readings = append(line.Readings, r)
			line.Points, line.DepthM, line.SigmaM = append(line.Points, geo.XY{X: x}), append(line.DepthM, r.DepthM), append(line.SigmaM, 0.3)
		}
		line.rd = inStationOrder(line.Readings)
		return len(newUnmapped(line, newColumns(line)).depthRuns(nil))
	}
	for _, c := range []struct {
		name                 string
		depthM, times, swell float64
		want                 int
	}{
		{"onto a deeper conductor with more", 1.7, 2, 0.35, 1},
		{"onto a shallower one with less", 0.4, 0.7, 0.2, 1},
		{"the line goes down", 1.7, 1, 0, 0},
		{"the line comes up", 0.4, 1, 0, 0},
		{"a current that swells elsewhere", 1.7, 1.05, 0.1, 0},
		{"the depth stays", 0.8, 2, 0, 0},
	} {
		if got := runs(c.depthM, c.times, c.swell); got != c.want {
			t.Errorf("%s: %d stretches, want %d", c.name, got, c.want)
		}
	}
}
