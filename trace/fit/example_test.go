package fit_test

import (
	"context"
	"fmt"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/fit"
)

// A line that runs east and turns north: readings every two metres, a metre deep,
// one of them five metres off. At the elbow a receiver reads too shallow, which the
// fit sets right.
func ExampleLine() {
	var readings []trace.Reading
	scatterM := []float64{0.01, -0.02, 0.015, -0.005, 0.02, -0.01, 0}
	for i := range 60 {
		r := trace.NewReading()
		w := scatterM[i%len(scatterM)]
		r.Pos = geo.XY{X: 2 * float64(i), Y: 50 + w}
		if i > 30 {
			r.Pos = geo.XY{X: 60 + w, Y: 50 + 2*float64(i-30)}
		}
		if i == 12 {
			r.Pos.Y = 55
		}
		r.HAccM, r.Fix, r.DepthM = 0.02, trace.FixRTK, 1
		readings = append(readings, r)
	}
	res, err := fit.Line(context.Background(), readings, fit.Options{})
	if err != nil {
		panic(err)
	}
	for _, part := range res.Parts {
		fmt.Printf("traced from %.0f to %.0f m\n", part.FromM(), part.ToM())
		for _, v := range part.Vertices {
			if v.Corner {
				fmt.Printf("an elbow at %.0f m east, %.0f m north, %.1f m deep\n", v.Pos.X, v.Pos.Y, v.DepthM)
			}
		}
	}
	for i, v := range res.Verdicts {
		if v.Fate != fit.Used {
			fmt.Printf("reading %d: %s\n", i, words.Remark(geo.Metric, v.Why))
		}
	}
	// Output:
	// traced from 0 to 118 m
	// an elbow at 60 m east, 50 m north, 1.1 m deep
	// reading 12: position outlier: 5.0 m off the line that the other readings make
}
