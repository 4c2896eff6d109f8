package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/traverse"
)

// setLeapsAside sets aside the runs of readings whose positions leapt together:
// many that agree with each other would win over the few that do not.
func setLeapsAside(t trace.Trace) {
	runs := traverse.LeaptRuns(t.Readings, func(r *trace.Reading) bool { return r.Status == trace.StatusUsed }, ownM)
	for _, run := range runs {
		for _, i := range run.Members {
			t.Readings[i].SetAside(remark.Outlier{From: remark.FromStraightOn, OffM: run.OffM, N: len(run.Members)})
		}
	}
}
