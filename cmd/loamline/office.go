package main

import (
	"fmt"
	"os"

	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// readOffice reads what all jobs of an office have in common: a job file without
// what belongs to one job or one place. A frame above all does not go from one job to
// the next: it would move a job of another country by metres.
func readOffice(path string) (trace.Job, error) {
	f, err := os.Open(path)
	if err != nil {
		return trace.Job{}, openError(path, err)
	}
	defer f.Close()
	job, err := intake.ReadJobFile(f, path)
	if err != nil {
		return job, err
	}
	usual := trace.DefaultJob()
	for _, k := range []struct {
		key string
		set bool
	}{
		{"job_id", job.ID != ""}, {"ticket", job.Ticket != ""}, {"date", job.Date != ""}, {"valid_until", job.ValidUntil != ""}, {"area", job.Area != ""},
		{"crs", job.CRS != usual.CRS}, {"datum", job.Datum != ""}, {"epoch", job.Epoch != 0}, {"vertical_datum", job.VerticalDatum != ""}, {"gnss_offset_s", job.GNSSOffsetS != 0},
		{"columns", len(job.Columns) > 0}, {"line", len(job.Lines) > 0}, {"reference", len(job.References) > 0}, {"feature", len(job.Features) > 0}, {"underlay", job.Underlay.File != ""},
		{"output.page_url", job.PageURL != ""}, {"output.crs", job.OutputCRS != ""},
	} {
		if k.set {
			return job, fmt.Errorf("%s: %s belongs to one job or one place, and no office has it in common: leave it to the job files and the page", path, k.key)
		}
	}
	return job, nil
}
