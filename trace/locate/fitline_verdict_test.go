package locate

import (
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/fit"
	"loamline.example/trace/remark"
)

// What the fit says of a reading is what becomes of it, and the ledger counts it so: leaps
// and what lies off the line are set aside, a spike loses its depth and nothing else, and a
// place where the line was seen is none of these, wherever the line was drawn.
func TestVerdictsBecomeFates(t *testing.T) {
	leapt := remark.Outlier{From: remark.FromLine, OffM: 3}
	for _, c := range []struct {
		name    string
		exposed bool
		fate    fit.Fate
		status  trace.Status
		dropped bool
		counted trace.Counts
	}{
		{"used", false, fit.Used, trace.StatusUsed, false, trace.Counts{Rows: 1, Used: 1}},
		{"a leap", false, fit.Blunder, trace.StatusSetAside, false, trace.Counts{Rows: 1, SetAside: 1}},
		{"off the line", false, fit.OffLine, trace.StatusSetAside, false, trace.Counts{Rows: 1, SetAside: 1}},
		{"a spike", false, fit.DepthSpike, trace.StatusUsed, true, trace.Counts{Rows: 1, Used: 1}},
		{"exposed, used", true, fit.Used, trace.StatusExposed, false, trace.Counts{Rows: 1, Exposed: 1}},
		{"exposed, as a leap", true, fit.Blunder, trace.StatusExposed, false, trace.Counts{Rows: 1, Exposed: 1}},
		{"exposed, off the line", true, fit.OffLine, trace.StatusExposed, false, trace.Counts{Rows: 1, Exposed: 1}},
		{"exposed, as a spike", true, fit.DepthSpike, trace.StatusExposed, false, trace.Counts{Rows: 1, Exposed: 1}},
	} {
		r := trace.NewReading()
		r.Status = trace.StatusUsed
		if r.Exposed = c.exposed; c.exposed {
			r.Status = trace.StatusExposed
		}
		v := fit.Verdict{Fate: c.fate, StationM: 12, OffsetM: 3, Why: leapt}
		if c.fate == fit.Used {
			v.Why = nil
		}
		applyVerdict(&r, v)
		if r.Status != c.status || r.DepthDropped != c.dropped || r.StationM != 12 || r.OffsetM != 3 {
			t.Errorf("%s: %s at %g m, %g m off, its depth dropped %v", c.name, r.Status, r.StationM, r.OffsetM, r.DepthDropped)
		}
		if told := r.Reason != nil; told != (c.status == trace.StatusSetAside || c.dropped) {
			t.Errorf("%s: the reason told is %v", c.name, r.Reason)
		}
		if got := trace.CountReadings([]trace.Reading{r}); got != c.counted {
			t.Errorf("%s: counted as %+v", c.name, got)
		}
	}
}
