package main

import (
	"fmt"
	"os"
	"path/filepath"

	"loamline.example/export"
	"loamline.example/trace"
)

// keepInputs refuses a run whose outputs would take the place of its own inputs,
// such as the layer trench.geojson beside the readings trench.csv.
func keepInputs(name string, opt mapOptions, job trace.Job) error {
	inputs := append(inputPaths(opt, job), opt.archive)
	for _, out := range export.JobOutputs(&trace.Sheet{Name: name}, opt.outDir, opt.write, export.JobOptions{}) {
		for _, in := range inputs {
			if in != "" && samePlace(out.Path, in) {
				return fmt.Errorf("%s: the map would overwrite this input: choose another folder with --out", in)
			}
		}
	}
	return nil
}

// inputPaths are the files that go into a job; some may be empty.
func inputPaths(opt mapOptions, job trace.Job) []string {
	inputs := append(append([]string{}, opt.traces...), opt.gnssLogs...)
	inputs = append(inputs, opt.jobFile)
	for _, r := range opt.references {
		if !r.InDatabase() {
			inputs = append(inputs, r.File)
		}
	}
	for _, r := range job.References {
		inputs = append(inputs, referencePath(r, job))
	}
	return append(inputs, underlayPath(opt, job))
}

// samePlace reports whether two names are of one file, which need not exist yet.
func samePlace(a, b string) bool {
	if sa, err := os.Stat(a); err == nil {
		if sb, err := os.Stat(b); err == nil {
			return os.SameFile(sa, sb)
		}
	}
	absA, errA := filepath.Abs(a)
	absB, errB := filepath.Abs(b)
	return errA == nil && errB == nil && absA == absB
}
