package bleed_test

import (
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
	"loamline.example/trace/tracetest/fixture"
)

func reading(depthM, signal float64) trace.Reading {
	nan := math.NaN()
	return trace.Reading{HAccM: 0.02, Fix: 4, DepthM: depthM, CurrentMA: nan, Signal: signal, SignalLow: nan, SignalHigh: nan, NullOffsetM: nan, FreqHz: nan}
}

// lifted is a reading with the receiver raised off the ground.
func lifted(depthM, signal, raiseM float64) trace.Reading {
	r := reading(depthM, signal)
	r.Status, r.RaiseM = trace.StatusCheck, raiseM
	return r
}

// read is a line with these readings and nothing else known of it.
func read(rs ...trace.Reading) bleed.Line { return bleed.Line{Readings: rs} }

// Lift of 0.30 m over 100 mA at 1 m: alone depth grows by 0.300 and the signal
// falls to 0.769; with 2 nT through the air it grows by 0.381 (27 % too much);
// beside an opposed current of 30 % one metre away by 0.263 (12 % too little,
// missed by a band of 15 %). Computed by superposition.
func TestLiftChecks(t *testing.T) {
	for _, c := range []struct {
		name string
		s    receiver.Section
		want trace.Outcome
	}{
		{"alone", receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}}, trace.OutcomePassed},
		{"air", receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}, AirT: 2e-9}, trace.OutcomeFailed},
		{"opposed air", receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}, AirT: -2e-9}, trace.OutcomeFailed},
		{"opposed neighbour", receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}, {XM: 1, DepthM: 1, CurrentA: -0.03}}}, trace.OutcomePassed},
	} {
		shown := c.s.Survey(0, 0.4)
		lift := c.s.Lift(shown.PeakM, 0.4, 0.3)
		far := reading(9, 1)
		far.Pos = geo.XY{X: 50}
		got := bleed.LiftChecks(read(far, reading(shown.DepthM, 1), lifted(lift.DepthM, lift.SignalRatio, 0.3)), 0)
		if len(got) != 1 || got[0].Outcome != c.want {
			t.Errorf("%s: %+v, want %s", c.name, got, c.want)
		}
	}
	flat := lifted(1.3, 1.01, 0.3)
	got := bleed.LiftChecks(read(reading(1, 1), flat), 0.04)
	if len(got) != 1 || got[0].Outcome != trace.OutcomeFailed || !strings.Contains(words.Remark(geo.Metric, got[0].Remark), "must fall") {
		t.Errorf("a signal that does not fall: %+v", got)
	}
	if got := bleed.LiftChecks(read(flat), 0.04); got != nil {
		t.Errorf("a raised reading alone is no check: %+v", got)
	}
}

// A line that dives to three times its depth and comes up again is a line at
// every antenna gap and with any column missing; a dipole's field beside it is
// not. Signals by formula: k·I/d over a line, the dipole's added (package
// receiver); the ratio of a dipole alone 3 m away is 1.0009.
func TestThroughAir(t *testing.T) {
	nan := math.NaN()
	for _, gap := range []float64{0.3, 0.4, 0.5, 0.6, 0.7} {
		for _, columns := range []string{"all", "antennas", "signal", "current", "depth"} {
			for _, fromM := range []float64{0.15, 4} { // of the transmitter
				var rds []*trace.Reading
				for i := range 30 {
					x := 2 * float64(i)
					depth := 0.7 + 1.6*math.Max(0, math.Min(1, math.Min((x-30)/4, (56-x)/4)))
					air := complex(fixture.DipoleT(3, x+fromM), 0)
					if fromM > 1 {
						air = 0
					}
					shown := receiver.Section{Lines: []receiver.Conductor{{DepthM: depth, CurrentA: 0.1}}, AirT: air}.Survey(0, gap)
					r := reading(shown.DepthM, nan)
					r.CurrentMA = 1000 * shown.LowT * shown.DepthM / receiver.TeslaMetrePerAmpere
					r.SignalLow, r.SignalHigh, r.Signal = shown.LowT, shown.HighT, nan
					switch columns {
					case "antennas":
						r.DepthM, r.CurrentMA = nan, nan
					case "signal":
						r.Signal, r.SignalLow, r.SignalHigh, r.CurrentMA = r.SignalLow, nan, nan, nan
					case "current":
						r.SignalLow, r.SignalHigh = nan, nan
					case "depth":
						r.SignalLow, r.SignalHigh, r.CurrentMA = nan, nan, nan
					}
					rds = append(rds, &r)
				}
				got := bleed.ThroughAir(rds, gap)
				for i, air := range got {
					if air && (i > 1 || fromM > 1) {
						t.Errorf("gap %.1f m, %s, transmitter %.2f m away: reading %d over the line is called air-coupled", gap, columns, fromM, i)
					}
				}
				if fromM < 1 && columns != "depth" && !got[0] {
					t.Errorf("gap %.1f m, %s: the transmitter's field at %.2f m is called a line", gap, columns, fromM)
				}
			}
		}
	}
	r := reading(nan, nan)
	for ratio, want := range map[float64]bool{1.4: false, 1.1: false, 1.0009: true, 0.9: true} {
		r.SignalLow, r.SignalHigh = ratio, 1
		if got := bleed.ThroughAir([]*trace.Reading{&r}, 0.4)[0]; got != want {
			t.Errorf("one reading with a ratio of %g: %v", ratio, got)
		}
	}
}

// A display at its end shows the same for both antennas, which is no sign of the air,
// and a signal that does not fall under a lift is none of trouble there.
func TestClippedSignals(t *testing.T) {
	line := bleed.Line{AntennaGapM: 0.4}
	const full = 1114.19
	for i := range 40 {
		r := reading(0.8, math.NaN())
		r.SignalLow = 3000 * math.Exp(-float64(i)/8)
		r.SignalHigh = r.SignalLow / 1.5
		r.SignalLow, r.SignalHigh = math.Min(r.SignalLow, full), math.Min(r.SignalHigh, full)
		r.StationM, r.Pos, r.Status = 2*float64(i), geo.XY{X: 2 * float64(i)}, trace.StatusUsed
		line.Readings = append(line.Readings, r)
	}
	lifted := line.Readings[2]
	lifted.Status, lifted.RaiseM, lifted.DepthM = trace.StatusCheck, 0.3, 1.1
	line.Readings = append(line.Readings, lifted)
	var rds []*trace.Reading
	for i := range line.Readings[:40] {
		rds = append(rds, &line.Readings[i])
	}
	for i, air := range bleed.ThroughAir(rds, 0.4) {
		if air {
			t.Errorf("reading %d, %g and %g, is called air-coupled", i, rds[i].SignalLow, rds[i].SignalHigh)
		}
	}
	if c := bleed.AirCoupling(line); len(c) != 1 || c[0].Outcome != trace.OutcomePassed || !strings.Contains(words.Remark(geo.Metric, c[0].Remark), "of 40") {
		t.Errorf("%+v", c)
	}
	if c := bleed.LiftChecks(line, 0.04); len(c) != 1 || c[0].Outcome != trace.OutcomePassed {
		t.Errorf("%+v", c)
	}
}

func TestAirCouplingNearTransmitter(t *testing.T) {
	line := bleed.Line{AntennaGapM: 0.4, Transmitter: &geo.XY{}, PowerW: 0.5}
	for i := range 12 {
		x := 2.5 * float64(i)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}, AirT: complex(fixture.DipoleT(3, x+2), 0)}
		shown := s.Survey(0, 0.4)
		r := reading(shown.DepthM, math.NaN())
		r.SignalLow, r.SignalHigh, r.Hookup, r.Pos, r.StationM = shown.LowT, shown.HighT, "induction", geo.XY{X: x}, x
		line.Readings = append(line.Readings, r)
	}
	got := bleed.AirCoupling(line)
	if len(got) != 2 || got[0].Outcome != trace.OutcomeFailed || got[1].Outcome != trace.OutcomeFailed {
		t.Fatalf("want one failed run and the readings near the transmitter, got %+v", got)
	}
	if !strings.Contains(words.Remark(geo.Metric, got[1].Remark), "4 readings within 10.0 m") {
		t.Error(words.Remark(geo.Metric, got[1].Remark))
	}
	if got[1].FromM != -10 || got[1].ToM != 10 || got[0].FromM != 0 || got[0].ToM >= 10 {
		t.Errorf("doubtful from where to where: %+v", got)
	}
	line.Transmitter, line.Readings = nil, line.Readings[5:]
	if got := bleed.AirCoupling(line); len(got) != 1 || got[0].Outcome != trace.OutcomePassed {
		t.Errorf("far from the transmitter: %+v", got)
	}
}

// A lift of 0.30 m over which depth grew by 0.17 m, with depths that scatter by
// 4 %, cannot tell a line from trouble; nor can one whose noise would excuse no
// growth at all, though it grew just right. 0.15 of the lift is common practice,
// no source: growth of 0.255 and 0.345 m is the edge.
func TestLiftOutcomes(t *testing.T) {
	for _, c := range []struct {
		groundM, growthM, raiseM, rel float64
		want                          trace.Outcome
		words                         string
	}{
		{1, 0.17, 0.30, 0.04, trace.OutcomeInconclusive, "Inconclusive: the growth differs"},
		{1, 0.17, 0.30, 0.01, trace.OutcomeFailed, "opposed current"},
		{1, 0.30, 0.30, 0.04, trace.OutcomePassed, "No sign of trouble"},
		{3, 0.30, 0.30, 0.04, trace.OutcomeInconclusive, "would not have shown"},
		{1, 0.344, 0.30, 0, trace.OutcomePassed, "No sign of trouble"},
		{1, 0.346, 0.30, 0, trace.OutcomeFailed, "through the air"},
		{1, 0.256, 0.30, 0, trace.OutcomePassed, "No sign of trouble"},
		{1, 0.254, 0.30, 0, trace.OutcomeFailed, "opposed current"},
		// Noise of 1 % at 1.0 and 1.4 m is 0.0172 m, two sigmas 0.0344: with
		// the band's 0.045 a growth of 0.379 m is excused, and 0.381 m is not.
		{1, 0.379, 0.30, 0.01, trace.OutcomeInconclusive, "Lift higher"},
		{1, 0.381, 0.30, 0.01, trace.OutcomeFailed, "through the air"},
	} {
		got := bleed.LiftChecks(read(reading(c.groundM, 1), lifted(c.groundM+c.growthM, 0.7, c.raiseM)), c.rel)
		if len(got) != 1 || got[0].Outcome != c.want || !strings.Contains(words.Remark(geo.Metric, got[0].Remark), c.words) {
			t.Errorf("%+v: %+v", c, got)
		}
	}
}

// A display in steps of 0.1 m may show a growth of 0.2 for a lift of 0.3 m, but not none;
// one in steps of 1 cm may show neither.
func TestLiftOnACoarseDisplay(t *testing.T) {
	for _, c := range []struct {
		elsewhereM, growthM float64
		want                trace.Outcome
	}{{1.1, 0.2, trace.OutcomeInconclusive}, {1.1, 0, trace.OutcomeFailed}, {1.13, 0.2, trace.OutcomeFailed}} {
		far := reading(c.elsewhereM, 1)
		far.Pos.X = 50
		further := reading(0.9, 1)
		further.Pos.X = 60
		got := bleed.LiftChecks(read(reading(1, 1), far, further, lifted(1+c.growthM, 0.7, 0.3)), 0.01)
		if len(got) != 1 || got[0].Outcome != c.want {
			t.Errorf("%+v: %+v", c, got)
		}
	}
}
