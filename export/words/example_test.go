package words_test

import (
	"fmt"

	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/geo"
)

func ExampleDepth() {
	fmt.Println(words.Depth(geo.US, 1.036, 0.15, "2026-05-12"))
	fmt.Println(words.Depth(geo.Metric, 1.036, 0.15, "2026-05-12"))
	// Output:
	// read depth to centre, 3 ft 5 in ± 6 in, on 2026-05-12; expose to verify
	// read depth to centre, 1.04 m ± 0.15, on 2026-05-12; expose to verify
}

func ExampleFinding() {
	s := sample.Sheet()
	for _, w := range words.Finding(s.Job.Units, s.Lines[0].Findings[2]) {
		fmt.Println(w)
	}
	// Output:
	// The dashed line only joins the ends; it is not the line's route.
	// No usable reading over 12.0 m: the line was not traced here.
	// The line may run anywhere between: trace again or expose.
}
