package jobs

import (
	"context"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"loamline.example/export"
	"loamline.example/trace"
)

// outputName is what every output is called on the disk, before its ending.
const outputName = "map"

// atOnce are the outputs that a map is not finished without: the map itself and
// the page that shows it. The others are made when they are asked for.
var atOnce = []string{"geojson", "html"}

// writeRun writes the files of a finished run into a folder that nobody sees yet.
func writeRun(ctx context.Context, dir string, sheet *trace.Sheet, settings []byte, job Job) (*Result, error) {
	result := resultOf(sheet)
	result.Inputs, result.Columns = job.inputs(), job.meanings()
	outs := []export.Output{
		{Path: filepath.Join(dir, "settings.toml"), Write: func(w io.Writer) error { _, err := w.Write(settings); return err }},
		{Path: filepath.Join(dir, "ledger.jsonl"), Write: func(w io.Writer) error { return writeLedger(w, sheet) }}}
	for _, o := range jobOutputs(sheet, dir) {
		o.Unmade = !slices.Contains(atOnce, o.Key)
		result.Files = append(result.Files, o.OutputFile)
		if !o.Unmade {
			outs = append(outs, stoppable(ctx, o.Output))
		}
	}
	if err := export.WriteFilesContext(ctx, outs); err != nil {
		return nil, &notWritten{err}
	}
	result.Files = append(result.Files, OutputFile{Key: "settings.toml", Name: sheet.Name + ".toml", Shows: "job file: these settings for the command line"})
	for i := range result.Files {
		if result.Files[i].Unmade {
			continue
		}
		if err := result.Files[i].pack(ctx, dir); err != nil {
			return nil, err
		}
	}
	return result, writeJSON(filepath.Join(dir, "result.json"), result)
}

// jobOutput is an output, and how a run lists it.
type jobOutput struct {
	OutputFile
	export.Output
}

// jobOutputs lists everything that a sheet can be written as into a run's folder.
func jobOutputs(sheet *trace.Sheet, dir string) []jobOutput {
	prefix := filepath.Join(dir, sheet.Name)
	var all []jobOutput
	for _, out := range export.JobOutputs(sheet, dir, export.FormatNames(), export.JobOptions{}) {
		ending := strings.TrimPrefix(out.Path, prefix)
		key := strings.TrimLeft(ending, ".-")
		out.Path = filepath.Join(dir, outputName+ending)
		all = append(all, jobOutput{OutputFile{Key: key, Name: sheet.Name + ending, Shows: out.Shows}, out})
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
