package jobs

import (
	"context"
	"io"
	"path/filepath"
	"slices"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/export"
	"loamline.example/trace"
)

// atOnce are the outputs that a map is not finished without: the map itself and
// the page that shows it. The others are made when they are asked for.
var atOnce = []string{"geojson", "html"}

// writeRun writes the files of a finished run into a folder that nobody sees yet.
func writeRun(ctx context.Context, dir string, sheet *trace.Sheet, settings []byte, job Job) (*report.Result, error) {
	result := report.Of(sheet)
	result.Inputs, result.Columns = job.inputs(), job.meanings()
	outs := []export.Output{
		{Path: filepath.Join(dir, "settings.toml"), Write: func(w io.Writer) error { _, err := w.Write(settings); return err }},
		{Path: filepath.Join(dir, "ledger.jsonl"), Write: func(w io.Writer) error { return report.WriteLedger(w, sheet) }}}
	for _, o := range outputs.All(sheet, dir) {
		o.Unmade = !slices.Contains(atOnce, o.Key)
		result.Files = append(result.Files, o.File)
		if !o.Unmade {
			outs = append(outs, outputs.Stoppable(ctx, o.Output))
		}
	}
	if err := export.WriteFilesContext(ctx, outs); err != nil {
		return nil, &disk.NotWritten{Err: err}
	}
	result.Files = append(result.Files, outputs.File{Key: "settings.toml", Name: sheet.Name + ".toml", Shows: "job file: these settings for the command line"})
	for i := range result.Files {
		if result.Files[i].Unmade {
			continue
		}
		if err := result.Files[i].Pack(ctx, dir); err != nil {
			return nil, err
		}
	}
	return result, disk.WriteJSON(filepath.Join(dir, "result.json"), result)
}
