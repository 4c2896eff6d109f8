package export_test

import (
	"fmt"
	"os"
	"path/filepath"

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

func ExampleWriteFiles() {
	dir, err := os.MkdirTemp("", "job")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	s := sample.Sheet()
	err = export.WriteFiles(export.JobOutputs(s, dir, []string{"csv", "gpx"}, export.JobOptions{}))
	if err != nil {
		panic(err)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "*"))
	for _, n := range names {
		fmt.Println(filepath.Base(n))
	}
	// Output:
	// lantern-row-lines.csv
	// lantern-row-readings.csv
	// lantern-row-records.csv
	// lantern-row.geojson
	// lantern-row.gpx
	// lantern-row.kml
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
