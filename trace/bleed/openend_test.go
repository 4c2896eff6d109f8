package bleed_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// A walk so dense that windows lie near the open end of a line without reaching it: the
// current, which dies away as sinh of the distance left, is no neighbour's there either.
func TestOpenEndOfADenseWalk(t *testing.T) {
	const lengthM, stepM, endM = 240, 0.8, 246
	for _, lossM := range []float64{60, 120} {
		for seed := range uint64(4) {
			random := rand.New(rand.NewPCG(seed, 5))
			var line bleed.Line
			line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
			for i := range 300 {
				x := stepM * float64(i)
				current, depth := 90*math.Sinh((endM-x)/lossM)/math.Sinh(endM/lossM), 1.1+0.2*math.Sin(x/25)
				r := trace.NewReading()
				r.Pos, r.StationM, r.HAccM, r.Fix, r.FreqHz, r.Hookup = geo.XY{X: x, Y: 0.02 * random.NormFloat64()}, x, 0.02, 4, 8192, "direct"
				r.Signal = 10 * current / depth * math.Exp(0.01*random.NormFloat64())
				r.DepthM = depth * math.Exp(0.03*random.NormFloat64())
				r.CurrentMA = r.Signal * r.DepthM / 10
				line.Readings = append(line.Readings, r)
				line.Points, line.DepthM, line.SigmaM = append(line.Points, geo.XY{X: x}), append(line.DepthM, depth), append(line.SigmaM, 0.02)
			}
			quiet(t, fmt.Sprintf("a loss over %.0f m, seed %d", lossM, seed), line)
		}
	}
}
