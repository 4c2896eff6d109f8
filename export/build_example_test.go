package export_test

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"loamline.example/export"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// A whole job: the job file and a table are read, the lines are built, and the
// maps are written, all of them or none.
func Example() {
	ctx := context.Background()
	folder := os.DirFS("../examples/lantern-row")
	file := func(name string) intake.File {
		return intake.File{Name: name, Open: func() (io.ReadCloser, error) { return folder.Open(name) }}
	}
	settings, err := folder.Open("lantern-row.toml")
	if err != nil {
		panic(err)
	}
	defer settings.Close()
	job, err := intake.ReadJobFile(settings, "lantern-row.toml")
	if err != nil {
		panic(err)
	}
	src, err := intake.Load(ctx, intake.LoadOptions{Name: "lantern-row", Job: job, Tables: []intake.File{file("lantern-row.csv")}})
	if err != nil {
		panic(err)
	}
	sheet, err := locate.Build(ctx, src)
	if err != nil {
		panic(err)
	}
	c := sheet.Counts
	fmt.Printf("%d rows: %d used, %d set aside, %d raised, %d exposed, %d unreadable\n", c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable)
	for _, l := range sheet.Lines {
		fmt.Printf("%s: %.0f m traced, within %.2f m\n", l.Setup.Name, l.Centerline.TracedM(), l.Centerline.Widest95M())
	}
	dir, err := os.MkdirTemp("", "job")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	if err := export.WriteFiles(export.JobOutputs(sheet, dir, nil, export.JobOptions{})); err != nil {
		panic(err)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "*"))
	for _, n := range names {
		fmt.Println(filepath.Base(n))
	}
	// Output:
	// 96 rows: 87 used, 5 set aside, 2 raised, 1 exposed, 1 unreadable
	// W-1: 124 m traced, within 1.82 m
	// G-1: 46 m traced, within 0.17 m
	// C-1: 29 m traced, within 0.06 m
	// lantern-row.geojson
	// lantern-row.kml
}
