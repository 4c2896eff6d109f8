package export_test

import (
	"fmt"
	"os"
	"path/filepath"

	"loamline.example/export"
	"loamline.example/export/internal/sample"
)

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
	// lantern-row-cautions.txt
	// lantern-row-lines.csv
	// lantern-row-readings.csv
	// lantern-row-records.csv
	// lantern-row-stakeout.csv
	// lantern-row.geojson
	// lantern-row.gpx
	// lantern-row.kml
}
