package bleed_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// quietJob is many long quiet lines, spacingM apart.
func quietJob(lines, readings int, spacingM float64) ([]bleed.Line, *bleed.Index) {
	r := rand.New(rand.NewPCG(1, 2))
	nan := math.NaN()
	var out []bleed.Line
	var paths []bleed.Path
	for l := range lines {
		line := bleed.Line{AntennaGapM: 0.4, Exclude: []int{l}}
		line.Name = fmt.Sprint("L", l)
		for i := range readings {
			x, y := 2*float64(i), spacingM*float64(l)
			d := (1 + 0.03*math.Sin(x/9)) * math.Exp(0.03*r.NormFloat64())
			pos := geo.XY{X: x, Y: y + 0.04*r.NormFloat64()}
			line.Points = append(line.Points, geo.XY{X: x, Y: y})
			line.DepthM, line.SigmaM = append(line.DepthM, 1), append(line.SigmaM, 0.03)
			signal := math.Exp(-0.002*x+0.006*r.NormFloat64()) / (1 + 0.03*math.Sin(x/9))
			line.Readings = append(line.Readings, trace.Reading{Pos: pos, StationM: x, HAccM: 0.02, Fix: 4, DepthM: d,
				CurrentMA: 100 * signal * d, Signal: nan, SignalLow: signal, SignalHigh: nan,
				NullOffsetM: 0.05 * r.NormFloat64(), FreqHz: 8192, Hookup: "direct"})
		}
		out, paths = append(out, line), append(paths, line.Path)
	}
	return out, bleed.NewIndex(paths)
}

func BenchmarkQuietLine(b *testing.B) {
	for _, spacingM := range []float64{20, 1.5} {
		b.Run(fmt.Sprint(spacingM, " m apart"), func(b *testing.B) {
			lines, ix := quietJob(20, 500, spacingM)
			for i := 0; b.Loop(); i++ {
				rep, err := bleed.Detect(context.Background(), lines[i%20], ix)
				if err != nil {
					b.Fatal(err)
				}
				for _, s := range rep.Stretches {
					if s.Grade != trace.GradeWatch {
						b.Fatalf("line %d: %+v", i%20, s)
					}
				}
			}
		})
	}
}
