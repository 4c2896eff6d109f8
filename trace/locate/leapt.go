package locate

import (
	"loamline/geo"
	"loamline/trace"
	"loamline/trace/traverse"
)

// setLeaptAside sets aside the runs of readings whose positions leapt together:
// many that agree with each other would win over the few that do not.
func setLeaptAside(t trace.Trace, u geo.Units) {
	runs := traverse.LeaptRuns(t.Readings, func(r *trace.Reading) bool { return r.Status == trace.StatusUsed }, ownM)
	for _, run := range runs {
		for _, i := range run.Members {
			t.Readings[i].SetAside("%s %d neighbouring readings lie about %s to one side together, and the walk took no more strides than straight on",
				trace.ReasonOutlier, len(run.Members), u.Short(run.OffM))
		}
	}
}
