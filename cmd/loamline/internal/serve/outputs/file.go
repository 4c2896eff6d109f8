// Package outputs is the files of a finished run: which there can be and under which names,
// how they lie in the run's folder, packed or not, and that each is handed out as it was
// written or not at all. Which of them are made when, and where the folder is, is decided by
// who keeps the runs.
package outputs

import (
	"path/filepath"
	"strings"

	"loamline.example/export"
	"loamline.example/trace"
)

// File is one file of a run.
type File struct {
	Key   string `json:"key"`  // by which it is asked for: "geojson", "lines.csv"
	Name  string `json:"name"` // under which it is saved
	Shows string `json:"shows"`
	Bytes int64  `json:"bytes,omitempty"`

	Unmade bool   `json:"unmade,omitempty"` // made when it is first asked for; size and sum follow then
	SHA256 string `json:"sha256,omitempty"`
	Packed bool   `json:"packed,omitempty"` // on the disk
}

// outputName is what every output is called on the disk, before its ending.
const outputName = "map"

// Output is an output, and how a run lists it.
type Output struct {
	File
	export.Output
}

// All lists everything that a sheet can be written as into a run's folder.
func All(sheet *trace.Sheet, dir string) []Output {
	prefix := filepath.Join(dir, sheet.Name)
	var all []Output
	for _, out := range export.JobOutputs(sheet, dir, export.FormatNames(), export.JobOptions{}) {
		ending := strings.TrimPrefix(out.Path, prefix)
		key := strings.TrimLeft(ending, ".-")
		out.Path = filepath.Join(dir, outputName+ending)
		all = append(all, Output{File{Key: key, Name: sheet.Name + ending, Shows: out.Shows}, out})
	}
	return all
}

// outputFile is the name on the disk of an output that a Result lists.
func outputFile(key string) string {
	switch {
	case key == "settings.toml":
		return key
	case strings.Contains(key, "."):
		return outputName + "-" + key
	}
	return outputName + "." + key
}
