package bleed_test

import (
	"context"
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// A straight line with another a metre to its left that carries three tenths of
// its current from 30 to 60 m: what a receiver shows there is worked out, and the
// detector is asked.
func ExampleDetect() {
	line := bleed.Line{Path: bleed.Path{Name: "A"}, AntennaGapM: 0.4, Exclude: []int{0}}
	beside := bleed.Path{Name: "B"}
	wobble := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	for i := range 50 {
		x, w := 2*float64(i), wobble[i%len(wobble)]
		section := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: complex(0.1*math.Exp(-0.002*x), 0)}}}
		if x >= 30 && x <= 60 {
			section.Lines = append(section.Lines, receiver.Conductor{XM: -1, DepthM: 1, CurrentA: 0.3 * section.Lines[0].CurrentA})
		}
		shown := section.Survey(0, 0.4)
		r := trace.NewReading()
		r.Pos, r.StationM, r.HAccM, r.Fix = geo.XY{X: x, Y: -shown.PeakM + 0.01*w}, x, 0.02, trace.FixRTK
		r.DepthM, r.CurrentMA = shown.DepthM*(1+0.02*w), 1000*shown.CurrentA
		r.NullOffsetM, r.FreqHz, r.Hookup = shown.NullOffsetM+0.01*w, 8192, trace.HookupDirect
		line.Readings = append(line.Readings, r)
		line.Points, beside.Points = append(line.Points, r.Pos), append(beside.Points, geo.XY{X: x, Y: 1})
		line.DepthM, beside.DepthM = append(line.DepthM, 1), append(beside.DepthM, 1)
		line.SigmaM, beside.SigmaM = append(line.SigmaM, 0.03), append(beside.SigmaM, 0.03)
	}
	report, err := bleed.Detect(context.Background(), line, bleed.NewIndex([]bleed.Path{line.Path, beside}))
	if err != nil {
		panic(err)
	}
	for _, s := range report.Stretches {
		fmt.Printf("%s: neighbour %s, %.0f to %.0f m\n", s.Grade, s.Neighbor, s.FromM, s.ToM)
		if s.Side != "" {
			fmt.Printf("the line lies %.1f m to the %s of the marks\n", s.ShiftM, s.Side)
		}
	}
	// Output:
	// watch: neighbour B, 0 to 30 m
	// strong: neighbour B, 30 to 60 m
	// the line lies 0.1 m to the right of the marks
	// watch: neighbour B, 60 to 98 m
}
