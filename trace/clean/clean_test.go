package clean

import (
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// placed returns a reading that stands somewhere, for tests of cleaning.
func placed(change func(*trace.Reading)) trace.Reading {
	r := trace.NewReading()
	r.Geographic = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}
	r.Row = 2
	change(&r)
	return r
}

func TestCleanGivesEachReadingItsFate(t *testing.T) {
	tests := []struct {
		name   string
		change func(*trace.Reading)
		status trace.Status
		reason string // a part of it
		depth  bool   // the depth survives
	}{
		{"plain", func(r *trace.Reading) { r.DepthM = 1.1 }, trace.StatusUsed, "", true},
		{"no depth", func(r *trace.Reading) {}, trace.StatusUsed, "", true},
		{"no fix", func(r *trace.Reading) { r.Fix = trace.FixNone }, trace.StatusSetAside, "fix 0", true},
		{"dead reckoning", func(r *trace.Reading) { r.Fix = trace.FixDeadReckoning }, trace.StatusSetAside, "fix 6", true},
		{"typed in", func(r *trace.Reading) { r.Fix = trace.FixManual }, trace.StatusSetAside, "fix 7", true},
		// NMEA 0183 GGA quality 8 is simulator mode: reject and alert.
		{"simulator", func(r *trace.Reading) { r.Fix = trace.FixSimulator }, trace.StatusSetAside, "simulator", true},
		{"float is usable", func(r *trace.Reading) { r.Fix = trace.FixFloat }, trace.StatusUsed, "", true},
		{"zero depth", func(r *trace.Reading) { r.DepthM = 0 }, trace.StatusUsed, "depth 0", false},
		{"less than any display shows", func(r *trace.Reading) { r.DepthM = 1e-308 }, trace.StatusUsed, "depth 0", false},
		{"negative depth", func(r *trace.Reading) { r.DepthM = -0.4 }, trace.StatusUsed, "negative", false},
		{"filler 999 m", func(r *trace.Reading) { r.DepthM = 999 }, trace.StatusUsed, "filler", false},
		{"filler 999 in", func(r *trace.Reading) { r.DepthM = 999 * geo.InchM }, trace.StatusUsed, "filler", false},
		{"filler 99.9 ft", func(r *trace.Reading) { r.DepthM = 99.9 * geo.FootM }, trace.StatusUsed, "filler", false},
		{"99.9 cm is a depth", func(r *trace.Reading) { r.DepthM = 0.999 }, trace.StatusUsed, "", true},
		{"as deep as can be", func(r *trace.Reading) { r.DepthM = 14.9 }, trace.StatusUsed, "", true},
		{"a little deeper", func(r *trace.Reading) { r.DepthM = 15.1 }, trace.StatusUsed, "deeper than a receiver can read", false},
		{"too deep", func(r *trace.Reading) { r.DepthM = 17.2 }, trace.StatusUsed, "deeper than a receiver can read", false},
		{"raised", func(r *trace.Reading) { r.RaiseM, r.DepthM = 0.3, 1.4 }, trace.StatusCheck, "", true},
		{"raised, filler", func(r *trace.Reading) { r.RaiseM, r.DepthM = 0.3, 999 }, trace.StatusCheck, "filler", false},
		{"exposed", func(r *trace.Reading) { r.Exposed, r.DepthM = true, 1.2 }, trace.StatusExposed, "", true},
		// A vertical dipole 3 m away has a ratio of 1.0009 over 0.4 m; a line 1 m
		// below has 1.4 (B falls as 1/r).
		{"air-coupled", func(r *trace.Reading) { r.SignalLow, r.SignalHigh = 1000.9, 1000 }, trace.StatusSetAside, "air-coupled", true},
		{"line below", func(r *trace.Reading) { r.SignalLow, r.SignalHigh = 140, 100 }, trace.StatusUsed, "depth computed", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rs := []trace.Reading{placed(tt.change)}
			Trace(trace.Trace{Name: "A", Readings: rs}, 0.4)
			r := rs[0]
			if r.Status != tt.status || !strings.Contains(said(r.Reason), tt.reason) || (tt.reason == "") != (r.Reason == nil) {
				t.Errorf("status %q reason %q, want %q with %q", r.Status, r.Reason, tt.status, tt.reason)
			}
			if r.DepthDropped == tt.depth {
				t.Errorf("depth dropped: %v", r.DepthDropped)
			}
		})
	}
}

func TestCleanSetsRepeatedRowsAside(t *testing.T) {
	at := time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC)
	a := placed(func(r *trace.Reading) { r.Time, r.DepthM, r.Row = at, 1, 5 })
	b := a
	b.Row = 6
	later := a
	later.Time, later.Row = at.Add(10*time.Second), 7
	exposed, again := a, a
	exposed.Row, exposed.Exposed, again.Row, again.Exposed = 8, true, 9, true
	rs := []trace.Reading{a, b, later, exposed, again}
	Trace(trace.Trace{Name: "A", Readings: rs}, 0.4)
	if rs[0].Status != trace.StatusUsed || rs[2].Status != trace.StatusUsed {
		t.Errorf("first %q, later %q: both should be used", rs[0].Status, rs[2].Status)
	}
	if rs[1].Status != trace.StatusSetAside || !strings.Contains(said(rs[1].Reason), "line 5") {
		t.Errorf("the repeat is %q: %q", rs[1].Status, rs[1].Reason)
	}
	if rs[3].Status != trace.StatusExposed || rs[4].Status != trace.StatusSetAside || !strings.Contains(said(rs[4].Reason), "line 8") {
		t.Errorf("what was exposed there is %q, and written twice %q: %q", rs[3].Status, rs[4].Status, rs[4].Reason)
	}
}

// Where little of a signal is left its last digit alone changes: 0.03 and 0.03 of hundredths
// may be 0.035 and 0.025, which a line 1 m below has, and 0.04 and 0.03 anything from 0.5 m on.
// The same signals in full show the air, and a depth.
func TestLastDigitsAreNeitherTheAirNorADepth(t *testing.T) {
	const gapM = 0.4
	trail := func(low, high float64) trace.Trace {
		var rs []trace.Reading
		for i := range 12 { // what is stronger, from a line 1.2 m below
			rs = append(rs, placed(func(r *trace.Reading) {
				r.Row, r.Geographic.LatDeg = int32(i+2), r.Geographic.LatDeg+1e-5*float64(i)
				r.SignalLow, r.SignalHigh = 0.48-0.02*float64(i), 0.36-0.015*float64(i)
				r.SignalLow, r.SignalHigh = math.Round(100*r.SignalLow)/100, math.Round(100*r.SignalHigh)/100
			}))
		}
		rs = append(rs, placed(func(r *trace.Reading) {
			r.Row, r.Geographic.LatDeg = 14, r.Geographic.LatDeg+12e-5
			r.SignalLow, r.SignalHigh = low, high
		}))
		return trace.Trace{Name: "A", Readings: rs}
	}
	for _, c := range []struct {
		low, high float64
		status    trace.Status
		depth     bool
	}{
		{0.03, 0.03, trace.StatusUsed, false},
		{0.04, 0.03, trace.StatusUsed, false},
		{0.0301, 0.03, trace.StatusSetAside, false}, // the air, of ten-thousandths
		{0.0401, 0.03, trace.StatusUsed, true},      // a line 1.2 m below, of ten-thousandths
		{0.40, 0.30, trace.StatusUsed, true},
	} {
		tr := trail(c.low, c.high)
		Trace(tr, gapM)
		r := tr.Readings[len(tr.Readings)-1]
		if r.Status != c.status || trace.Known(r.DepthM) != c.depth {
			t.Errorf("%v and %v: %s, %v, depth %v", c.low, c.high, r.Status, said(r.Reason), r.DepthM)
		}
	}
}
