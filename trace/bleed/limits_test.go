package bleed

import (
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// How near to an induction transmitter its own field is reckoned with: 10 m at
// up to 1 W, 15 m at up to 3 W, 25 m beyond ("about 10 m at low output, 15 to
// 25 m or more at high": common practice, no source). Readings 0.1 m within and
// beyond each.
func TestTransmitterReach(t *testing.T) {
	for _, c := range []struct{ powerW, reachM float64 }{
		{0, 10}, {math.NaN(), 10}, {0.5, 10}, {1, 10}, {1.1, 15}, {3, 15}, {3.1, 25}, {12, 25},
	} {
		for _, within := range []bool{true, false} {
			d := c.reachM + 0.1
			if within {
				d = c.reachM - 0.1
			}
			r := reading{Reading: trace.Reading{Hookup: "induction", Pos: geo.XY{X: d}}}
			got, told := nearTransmitter(Line{Transmitter: &geo.XY{}, PowerW: c.powerW, rd: []reading{r}})
			if told != within || told && !strings.Contains(words.Remark(geo.Metric, got.Remark), geo.Metric.Long(c.reachM)) {
				t.Errorf("%g W, %.1f m away: told %v, %q", c.powerW, d, told, words.Remark(geo.Metric, got.Remark))
			}
		}
	}
	r := reading{Reading: trace.Reading{Hookup: "direct", Pos: geo.XY{X: 1}}}
	if _, told := nearTransmitter(Line{Transmitter: &geo.XY{}, PowerW: 12, rd: []reading{r}}); told {
		t.Error("a transmitter that is connected has no field through the air to speak of")
	}
}

// How far a depth and a current must stand out to be called air-coupled: 1.8
// times the line's depth and more than a metre beyond it, 1.6 times the current
// nearby and what the depth's error explains, or deeper than 15 m at all (common
// practice, no source). Current is signal times depth.
func TestThroughAirLimits(t *testing.T) {
	nan := math.NaN()
	walk := func(lineM, depthM, current float64) bool {
		var rds []reading
		for range 11 {
			rds = append(rds, reading{Reading: trace.Reading{DepthM: lineM, Signal: 1 / lineM, SignalLow: nan, SignalHigh: nan, CurrentMA: nan}})
		}
		rds[5].DepthM, rds[5].Signal = depthM, current/depthM
		return throughAir(rds, 0.4)[5]
	}
	for _, c := range []struct {
		lineM, depthM, current float64
		want                   bool
	}{
		{2, 3.55, 5, false}, {2, 3.65, 5, true}, // 1.8 · 2 m
		{0.5, 1.45, 5, false}, {0.5, 1.55, 5, true}, // a metre beyond 0.5 m
		// The antennas' error at 2.5 m is 0.04·7.25/3.5 = 0.083: 1.6·(1 + 2·0.083) = 1.865.
		{1, 2.5, 1.6, false}, {1, 2.5, 1.85, false}, {1, 2.5, 1.88, true}, {1, 2.5, 2.5, true},
	} {
		if got := walk(c.lineM, c.depthM, c.current); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	// The current nearby is the median of five readings to each side: of six 1 and four
	// 5, not of the nearest four, and not of those farther off.
	var around []reading
	for i, current := range []float64{5, 5, 1, 1, 1, 5, 5, 5, 5, 5, 1, 1, 1, 5, 5} {
		depthM := 1.0
		if i == 7 {
			depthM = 2.5
		}
		around = append(around, reading{Reading: trace.Reading{DepthM: depthM, Signal: current / depthM, SignalLow: nan, SignalHigh: nan, CurrentMA: nan}})
	}
	if !throughAir(around, 0.4)[7] {
		t.Error("a depth of 2.5 m at five times the current nearby passed for the line's")
	}
	// Two antennas 0.40 m apart over a line 15 m deep read 15.4/15 = 1.02667.
	for ratio, want := range map[float64]bool{1.0268: false, 1.0265: true} {
		if got := throughAir([]reading{{Reading: trace.Reading{SignalLow: ratio, SignalHigh: 1}}}, 0.4)[0]; got != want {
			t.Errorf("ratio %g: %v", ratio, got)
		}
	}
}

// A raised reading is held against a ground reading recorded within a metre and three
// times the positions' error (common practice, no source). That is 0.02 m with 3 % of
// 1.30 m for the mark, 0.044 m: 1.131 m.
func TestLiftPairReach(t *testing.T) {
	for apartM, want := range map[float64]int{1.12: 1, 1.15: 0} {
		ground, up := trace.NewReading(), trace.NewReading()
		ground.DepthM, ground.HAccM, ground.Pos = 1, 0.02, geo.XY{}
		up.DepthM, up.HAccM, up.RaiseM, up.Status, up.Pos = 1.3, 0.02, 0.3, trace.StatusCheck, geo.XY{X: apartM}
		if got := LiftChecks(Line{Readings: []trace.Reading{ground, up}}, 0.01); len(got) != want {
			t.Errorf("%g m apart: %+v", apartM, got)
		}
	}
}

// How likely a neighbour in reach carries signal before any sign: by hookup direct
// connection couples least and induction most, and high frequencies couple more
// (CCGA Best Practices 3.0, 3-11, gives the order; the figures are judged, and
// stand here so that none changes unseen).
func TestPriors(t *testing.T) {
	for _, c := range []struct {
		hookup string
		freqHz float64
		near   bool
		want   float64
	}{
		{"", 8000, true, 0.45}, {"direct", 8000, true, 0.27}, {"clamp", 8000, true, 0.45}, {"induction", 8000, true, 0.6}, {"passive", 8000, true, 0.6},
		{"direct", 512, true, 0.162}, {"direct", 33000, true, 0.405}, {"clamp", 1000, true, 0.27}, {"clamp", 1001, true, 0.45},
		{"clamp", 29999, true, 0.45}, {"clamp", 30000, true, 0.6}, {"clamp", math.NaN(), true, 0.45}, {"", 8000, false, 0.05}, {"induction", 33000, false, 0.1125},
	} {
		e := neighbour{}
		if c.near {
			e.at = []neighbourAt{{}}
		}
		col := &columns{rd: []reading{{Reading: trace.Reading{Hookup: trace.Hookup(c.hookup), FreqHz: c.freqHz}}}}
		if got := col.prior(e, 0, 1); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: %g", c, got)
		}
	}
}

// What the current's direction says for a jump, as ln odds: 3.5 where most of the
// run flows against most of what is about it, -0.6 where it does not, nothing by
// fewer than two readings or farther than a dozen away (judged, as the priors).
func TestPhaseOdds(t *testing.T) {
	odds := func(from, to int, phases ...int8) float64 {
		c := &columns{}
		for _, p := range phases {
			c.rd = append(c.rd, reading{Reading: trace.Reading{Phase: trace.Phase(p)}})
		}
		return c.phaseOdds(from, to)
	}
	far := append([]int8{1, 1}, make([]int8, 14)...)
	for name, c := range map[string]struct{ got, want float64 }{
		"reversed on the run":      {odds(2, 4, 1, 1, -1, -1, 1, 1), 3.5},
		"against all about it":     {odds(2, 3, -1, -1, 1, 1, -1), 3.5},
		"the same all along":       {odds(2, 3, 1, 1, 1, 1, 1), -0.6},
		"half of the run":          {odds(2, 3, 1, 1, 1, -1, 1), -0.6},
		"one reading on the run":   {odds(2, 3, 1, 1, -1, 0, 1), 0},
		"one reading about it":     {odds(1, 2, 1, -1, -1), 0},
		"readings ten away":        {odds(11, 12, append(far[:11:11], -1, -1)...), 3.5},
		"readings too far from it": {odds(14, 15, append(far[:14:14], -1, -1)...), 0},
	} {
		if c.got != c.want {
			t.Errorf("%s: %g, want %g", name, c.got, c.want)
		}
	}
}

// A mark lies on a neighbour within 2.8 sigma of both their errors, of 5 cm at least, or
// half of that where it is taken for the neighbour's only as the nearer; errors of 0.75 m
// lie on everything.
func TestMarksThatLieOnANeighbour(t *testing.T) {
	for _, c := range []struct {
		distM, sigmaM float64
		closer, want  bool
	}{
		{0.27, 0.1, false, true}, {0.29, 0.1, false, false},
		{0.13, 0.01, false, true}, {0.15, 0.01, false, false},
		{0.13, 0.1, true, true}, {0.15, 0.1, true, false},
		{1, 0.7, false, true}, {1, 0.8, false, false},
	} {
		if got := (onNeighbour{distM: c.distM, sigmaM: c.sigmaM, closer: c.closer}).lies(); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
