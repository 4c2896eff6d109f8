package locate

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// depthlessWalk is a walk over one long line 1.2 m deep, antennas 0.40 m apart:
// by Ampère's law the lower one hears 1.6/1.2 times the upper one.
func depthlessWalk() []trace.Reading {
	rs := fixture.Walk(0, "A", -30.5, 44.1, 12)
	for i := range rs {
		rs[i].Time = time.Date(2026, 5, 12, 8, i, 0, 0, time.UTC)
		rs[i].HAccM, rs[i].SignalLow, rs[i].SignalHigh = 0.02, 160, 120
	}
	return rs
}

func TestDepthFromAntennas(t *testing.T) {
	job := trace.DefaultJob()
	job.AntennaGap = 0.4
	rs := depthlessWalk()
	rs[5].RaiseM, rs[5].SignalLow, rs[5].SignalHigh = 0.3, 190, 150 // 1.5 m: lifted by 0.3 m
	s, err := Build(context.Background(), trace.Source{Name: "a", Job: job, Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil {
		t.Fatal(err)
	}
	l := s.Lines[0]
	for _, v := range l.Centerline.Parts[0].Vertices {
		if math.Abs(v.DepthM-1.2) > 0.01 {
			t.Fatalf("depth %g at %g m", v.DepthM, v.StationM)
		}
	}
	if !strings.Contains(strings.Join(words.Remarks(geo.Metric, l.Centerline.Notes), " "), "at 12 readings from the two antennas, taken as 0.40 m apart") {
		t.Errorf("notes %q", l.Centerline.Notes)
	}
	for i := range l.Readings {
		if r := &l.Readings[i]; r.Status == trace.StatusCheck && math.Abs(r.DepthM-1.5) > 0.01 {
			t.Errorf("lifted reading shows %g m", r.DepthM)
		}
	}
}

// Without the gap there is no depth, and a line that has depths keeps its own.
func TestNoDepthFromAntennas(t *testing.T) {
	for name, rs := range map[string][]trace.Reading{"no gap": depthlessWalk(), "own depths": depthlessWalk()} {
		gapM := 0.4
		if name == "no gap" {
			gapM = trace.Unknown
		} else {
			rs[3].DepthM = 0.9
		}
		clean.Trace(trace.Trace{Name: "A", Readings: rs}, gapM)
		for i := range rs {
			if own := name == "own depths" && i == 3; trace.Known(rs[i].DepthM) != own {
				t.Errorf("%s: row %d has depth %g", name, i, rs[i].DepthM)
			}
		}
	}
}

// A depth that was left out for a lost point, or with all of its line, is none: no antennas
// stand in for what is told to be unused, and reading, notes and guard say the same.
func TestNoAntennasForADepthLeftOut(t *testing.T) {
	for name, c := range map[string]struct {
		depthM float64 // at one reading, or at all of them
		all    bool
		why    trace.Remark
	}{
		"a lost point": {12, false, remark.TenfoldDepth{DepthM: 12}},
		"all shallow":  {0.03, true, remark.TooShallow{DepthM: 0.03}},
	} {
		job := trace.DefaultJob()
		job.AntennaGap = 0.4
		rs := depthlessWalk()
		for i := range rs {
			rs[i].DepthM = 1.2
			rs[i].SignalLow, rs[i].SignalHigh = rs[i].SignalLow+4*float64(i%5), rs[i].SignalHigh+3*float64(i%5) // off the end of the display
			if c.all || i == 6 {
				rs[i].DepthM = c.depthM
			}
		}
		s, err := Build(context.Background(), trace.Source{Name: "a", Job: job, Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
		if err != nil {
			t.Fatal(err)
		}
		l := s.Lines[0]
		r := l.Readings[6]
		if !r.DepthDropped || trace.Known(r.DepthM) || r.Reason != c.why || r.Status != trace.StatusUsed {
			t.Errorf("%s: depth %g, dropped %v, %q", name, r.DepthM, r.DepthDropped, said(r.Reason))
		}
		if countOf[remark.DepthsComputed](l.Centerline.Notes) > 0 {
			t.Errorf("%s: %q", name, words.Remarks(geo.Metric, l.Centerline.Notes))
		}
		for _, v := range l.Centerline.Parts[0].Vertices {
			if c.all == trace.Known(v.DepthM) || !c.all && math.Abs(v.DepthM-1.2) > 0.05 {
				t.Errorf("%s: drawn at %g m", name, v.DepthM)
			}
		}
	}
}
