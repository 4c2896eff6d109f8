package export_test

import (
	"fmt"

	"loamline/export"
	"loamline/export/internal/sample"
	"loamline/geo"
)

func ExampleDepthWords() {
	fmt.Println(export.DepthWords(geo.US, 1.036, 0.15, "2026-05-12"))
	fmt.Println(export.DepthWords(geo.Metric, 1.036, 0.15, "2026-05-12"))
	// Output:
	// read depth to centre, 3.4 ft ± 0.5, on 2026-05-12; expose to verify
	// read depth to centre, 1.04 m ± 0.15, on 2026-05-12; expose to verify
}

func ExampleFindingWords() {
	s := sample.Sheet()
	for _, w := range export.FindingWords(s.Job.Units, s.Lines[0].Findings[2]) {
		fmt.Println(w)
	}
	// Output:
	// The line was not traced here; the dashed course is only a bridge between its ends.
	// No usable reading over 12.0 m.
	// The line may run anywhere between: trace again or expose.
}
