package locate

import (
	"context"
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
	"loamline.example/trace/tracetest/spent"
	"loamline.example/trace/transmitter"
)

// airWalk is a walk over a line 0.8 m deep whose first reading stands beside an
// induction transmitter. Fields by the law of Ampère and of a dipole (package
// receiver).
func airWalk(n int) []trace.Reading {
	rs := walkOff(n, 0, 0)
	for i := range rs {
		r := &rs[i]
		air := complex(fixture.DipoleT(3, 0.4+2*float64(i)), 0)
		shown := receiver.Section{Lines: []receiver.Conductor{{DepthM: 0.8, CurrentA: 0.1}}, AirT: air}.Survey(0, 0.4)
		r.DepthM, r.SignalLow, r.SignalHigh, r.CurrentMA = shown.DepthM, 1e9*shown.LowT, 1e9*shown.HighT, 1000*shown.CurrentA
		r.Fix, r.HAccM, r.Hookup = trace.FixRTK, 0.015, trace.HookupInduction
	}
	return rs
}

// What the transmitter's field hid was walked and is not drawn: a gap, told. Its
// field is no other line's.
func TestTheStretchAtAnInductionTransmitterIsAGap(t *testing.T) {
	s := builtFrom(t, airWalk(30))
	l := s.Lines[0]
	aside := 0
	for i := range l.Readings {
		if transmitter.AirCoupled(&l.Readings[i]) {
			aside++
		}
	}
	gaps := 0
	for _, f := range l.Findings {
		switch f := f.(type) {
		case finding.Gap:
			gaps++
			if d := f.Path[0].Dist(f.Path[len(f.Path)-1]); d < 1.5*float64(aside) {
				t.Errorf("a gap of %.1f m for %d readings 2 m apart", d, aside)
			}
		case finding.BleedOver:
			t.Errorf("the transmitter's own field is called another line's: %+v", f)
		}
	}
	if aside == 0 || aside > 3 || gaps != 1 || !strings.Contains(adviceText(s), "was not traced over") {
		t.Errorf("%d set aside, %d gaps: %q", aside, gaps, adviceText(s))
	}
}

// Nothing says by how much a transmitter's own field moves peak and depth: as far as it
// reaches the line is in doubt, which is one item with what the antennas show there, and no
// accuracy is stated and no sign asks a second time.
func TestTheReachOfATransmitterIsInDoubt(t *testing.T) {
	s := builtFrom(t, airWalk(30))
	l := s.Lines[0]
	reachM, items := 0.0, 0
	for _, f := range l.Findings {
		if d, ok := f.(finding.Doubt); ok {
			if _, near := d.Why.(remark.NearTransmitter); near {
				reachM = d.ToM - d.FromM
			}
		}
	}
	for _, a := range s.Advice {
		if strings.Contains(said(a.Remark), "the induction transmitter") || strings.Contains(said(a.Remark), "two antennas") {
			items++
			if a.Kind != trace.AdviseDoubt || a.FromM != 0 || a.ToM-a.FromM != reachM {
				t.Errorf("%+v", a)
			}
		}
	}
	// The nearest reading that the line is drawn from lies a little off the transmitter.
	if reachM < 5 || reachM > receiver.TransmitterReachM(0) || items != 1 {
		t.Errorf("%.1f m in doubt, %d items: %q", reachM, items, adviceText(s))
	}
}

// What readings past the ends cost grows as they do, in memory asked for, and their places
// stand by their distance from the end.
func TestAirGapsCostWhatTheyAre(t *testing.T) {
	c := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 10}).Centerline
	asked := func(n int) uint64 {
		rs := make([]trace.Reading, n)
		for i := range rs {
			rs[i] = trace.NewReading()
			rs[i].Pos = geo.XY{X: -float64(1+i*7919%n) / 8}
			rs[i].SetAside(remark.AirCoupled{})
		}
		all, _, err := spent.After(math.MaxUint64, nil, func(context.Context) error {
			found := airGaps("A", c, rs)
			if len(found) != 1 || len(found[0].Where()) != n+1 {
				t.Fatalf("%d readings: %d gaps", n, len(found))
			}
			for k, p := range found[0].Where() {
				if p.X != -float64(k)/8 {
					t.Fatalf("place %d of %d lies at %g m", k, n, p.X)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	if few, many := asked(4000), asked(16000); many > 8*few {
		t.Errorf("four times the readings ask for %d bytes instead of %d", many, few)
	}
}

// Without antennas the depths tell where the transmitter stood, and its reach is in doubt.
func TestTheReachOfATransmitterThatDepthsTell(t *testing.T) {
	for _, hookup := range []trace.Hookup{trace.HookupInduction, trace.HookupDirect} {
		rs := airWalk(30)
		for i := range rs {
			r := &rs[i]
			air := complex(fixture.DipoleT(40, 1+2*float64(i)), 0)
			r.DepthM = receiver.Section{Lines: []receiver.Conductor{{DepthM: 0.8, CurrentA: 0.1}}, AirT: air}.Survey(0, 0.4).DepthM
			r.SignalLow, r.SignalHigh, r.CurrentMA, r.Hookup = trace.Unknown, trace.Unknown, trace.Unknown, hookup
		}
		doubts := 0
		for _, f := range builtFrom(t, rs).Lines[0].Findings {
			if d, ok := f.(finding.Doubt); ok {
				if n, near := d.Why.(remark.NearTransmitter); near && n.PositionAssumed {
					doubts++
				}
			}
		}
		if want := map[trace.Hookup]int{trace.HookupInduction: 1}[hookup]; doubts != want {
			t.Errorf("%s: %d doubts for the transmitter's reach, want %d", hookup, doubts, want)
		}
	}
}
