package trace

import (
	"strings"
	"testing"
	"time"

	"loamline/geo"
)

// placed returns a reading that stands somewhere, for tests of cleaning.
func placed(change func(*Reading)) Reading {
	r := NewReading()
	r.Geographic = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}
	r.Row = 2
	change(&r)
	return r
}

func TestCleanGivesEachReadingItsFate(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Reading)
		status Status
		reason string // a part of it
		depth  bool   // the depth survives
	}{
		{"plain", func(r *Reading) { r.DepthM = 1.1 }, StatusUsed, "", true},
		{"no depth", func(r *Reading) {}, StatusUsed, "", true},
		{"no fix", func(r *Reading) { r.Fix = FixNone }, StatusSetAside, "fix 0", true},
		{"dead reckoning", func(r *Reading) { r.Fix = FixDeadReckoning }, StatusSetAside, "fix 6", true},
		{"typed in", func(r *Reading) { r.Fix = FixManual }, StatusSetAside, "fix 7", true},
		// NMEA 0183 GGA quality 8 is simulator mode: reject and alert.
		{"simulator", func(r *Reading) { r.Fix = FixSimulator }, StatusSetAside, "simulator", true},
		{"float is usable", func(r *Reading) { r.Fix = FixFloat }, StatusUsed, "", true},
		{"zero depth", func(r *Reading) { r.DepthM = 0 }, StatusUsed, "depth 0", false},
		{"negative depth", func(r *Reading) { r.DepthM = -0.4 }, StatusUsed, "negative", false},
		{"filler 999 m", func(r *Reading) { r.DepthM = 999 }, StatusUsed, "filler", false},
		{"filler 999 in", func(r *Reading) { r.DepthM = 999 * geo.InchM }, StatusUsed, "filler", false},
		{"filler 99.9 ft", func(r *Reading) { r.DepthM = 99.9 * geo.FootM }, StatusUsed, "filler", false},
		{"99.9 cm is a depth", func(r *Reading) { r.DepthM = 0.999 }, StatusUsed, "", true},
		{"as deep as can be", func(r *Reading) { r.DepthM = 14.9 }, StatusUsed, "", true},
		{"a little deeper", func(r *Reading) { r.DepthM = 15.1 }, StatusUsed, "deeper than a receiver can read", false},
		{"too deep", func(r *Reading) { r.DepthM = 17.2 }, StatusUsed, "deeper than a receiver can read", false},
		{"raised", func(r *Reading) { r.RaiseM, r.DepthM = 0.3, 1.4 }, StatusCheck, "", true},
		{"raised, filler", func(r *Reading) { r.RaiseM, r.DepthM = 0.3, 999 }, StatusCheck, "filler", false},
		{"exposed", func(r *Reading) { r.Exposed, r.DepthM = true, 1.2 }, StatusExposed, "", true},
		// A vertical dipole 3 m away has a ratio of 1.0009 over 0.4 m; a line 1 m
		// below has 1.4 (B falls as 1/r).
		{"air-coupled", func(r *Reading) { r.SignalLow, r.SignalHigh = 1000.9, 1000 }, StatusSetAside, "air-coupled", true},
		{"line below", func(r *Reading) { r.SignalLow, r.SignalHigh = 140, 100 }, StatusUsed, "depth computed", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rs := []Reading{placed(tt.change)}
			clean(Trace{"A", rs}, 0.4)
			r := rs[0]
			if r.Status != tt.status || !strings.Contains(r.Reason, tt.reason) || (tt.reason == "") != (r.Reason == "") {
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
	a := placed(func(r *Reading) { r.Time, r.DepthM, r.Row = at, 1, 5 })
	b := a
	b.Row = 6
	later := a
	later.Time, later.Row = at.Add(10*time.Second), 7
	rs := []Reading{a, b, later}
	clean(Trace{"A", rs}, 0.4)
	if rs[0].Status != StatusUsed || rs[2].Status != StatusUsed {
		t.Errorf("first %q, later %q: both should be used", rs[0].Status, rs[2].Status)
	}
	if rs[1].Status != StatusSetAside || !strings.Contains(rs[1].Reason, "line 5") {
		t.Errorf("the repeat is %q: %q", rs[1].Status, rs[1].Reason)
	}
}
