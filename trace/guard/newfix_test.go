package guard

import (
	"math"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// TestStepBehindAPause: an hour's pause makes a step of a small offset that it is not
// without one.
func TestStepBehindAPause(t *testing.T) {
	walk := func(asideM float64, pause time.Duration) *trace.Line {
		l := drawnThrough(along(21, func(x float64) float64 { return asideM * b2f(x > 20) }))
		for i := 11; i < len(l.Readings); i++ {
			l.Readings[i].Time = l.Readings[i].Time.Add(pause)
		}
		return l
	}
	for _, c := range []struct {
		name   string
		asideM float64
		pause  time.Duration
		want   bool
	}{
		{"0.25 m behind an hour", 0.25, time.Hour, true},
		{"0.25 m on the way", 0.25, 0, false},
		{"0.25 m behind a minute", 0.25, time.Minute, false},
		{"0.1 m behind an hour", 0.1, time.Hour, false},
	} {
		if got := len(Check(walk(c.asideM, c.pause), rule(), Step)) > 0; got != c.want {
			t.Errorf("%s: told %v, want %v", c.name, got, c.want)
		}
	}
}

// TestStepAtAnotherSetup: a small offset where the frequency changes is a step, for another one
// couples otherwise; another figure for the same one, and cells that are left blank where
// nothing changes, are none.
func TestStepAtAnotherSetup(t *testing.T) {
	for _, c := range []struct {
		hz     float64
		hookup trace.Hookup
		want   bool
	}{
		{8000, trace.HookupDirect, false}, {33000, trace.HookupDirect, true}, {8192, trace.HookupDirect, false}, {8000, trace.HookupClamp, true},
		{trace.Unknown, "", false}, {8000, "", false},
	} {
		l := drawnThrough(along(21, func(x float64) float64 { return 0.25 * b2f(x > 20) }))
		for i := range l.Readings {
			r := &l.Readings[i]
			r.Row, r.FreqHz, r.Hookup = int32(i), 8000, trace.HookupDirect
			if i >= 11 {
				r.FreqHz, r.Hookup = c.hz, c.hookup
			}
		}
		if got := len(Check(l, rule(), Step)) > 0; got != c.want {
			t.Errorf("from 8000 Hz, direct, to %.0f Hz, %s: told %v", c.hz, c.hookup, got)
		}
	}
}

// TestPassesAllAlong: two passes that lie apart where they meet may either be wrong where
// they went alone.
func TestPassesAllAlong(t *testing.T) {
	at := along(16, level) // to 30 m
	for x := 22.0; x <= 60; x += 2 {
		at = append(at, geo.XY{X: x, Y: 0.4})
	}
	l := read(line(0.05, geo.XY{}, geo.XY{X: 60}), at...)
	for _, b := range Check(l, rule(), Passes) {
		if b.FromM <= 0.01 && b.ToM >= 59.9 {
			return
		}
	}
	t.Errorf("told %+v, want all of both passes", Check(l, rule(), Passes))
}

// TestLooseBend: loose readings hold the band of a bend to what they tell, and tight ones
// need not.
func TestLooseBend(t *testing.T) {
	at := along(8, level)
	for k := 1; k <= 6; k++ {
		a := float64(k) * math.Pi / 12
		at = append(at, geo.XY{X: 14 + 8*math.Sin(a), Y: 8 - 8*math.Cos(a)})
	}
	for y := 10.0; y <= 24; y += 2 {
		at = append(at, geo.XY{X: 22, Y: y})
	}
	l := drawnThrough(at)
	if got := newView(l, rule()).looseBends(); len(got) > 0 {
		t.Errorf("tight readings all along: %+v", got)
	}
	for i := 8; i < 14; i++ {
		l.Readings[i].HAccM = 0.4
	}
	got := newView(l, rule()).looseBends()
	// 1.96 times 0.4 m over the square root of three, as they lie on the line.
	if len(got) != 1 || math.Abs(got[0].BandM-0.453) > 0.02 {
		t.Errorf("loose readings in the bend: %+v, want a band of 0.45 m", got)
	}
	for i := range l.Readings {
		l.Readings[i].HAccM = 0.4
	}
	if got := newView(l, rule()).looseBends(); len(got) > 0 {
		t.Errorf("loose readings all along: %+v", got)
	}
}

// TestGentleTurnAmongLooseReadings: a line drawn between legs that tight readings tell, with a
// turn of 6° where loose ones alone stand, may bend anywhere among them; a straight one between
// does not. More than half of the readings are loose.
func TestGentleTurnAmongLooseReadings(t *testing.T) {
	for name, c := range map[string]struct {
		y    func(x float64) float64
		told bool
	}{
		"a turn": {func(x float64) float64 { return 0.105 * math.Max(0, x-50) }, true},
		"none":   {level, false},
	} {
		places := along(50, c.y)
		l := read(line(0.1, places...), places...)
		for i := 12; i < 40; i++ {
			l.Readings[i].HAccM = 0.4
		}
		got := newView(l, rule()).looseBends()
		if told := len(got) == 1 && got[0].FromM < 24 && got[0].ToM > 79 && got[0].BandM > 0.4; told != c.told || !c.told && len(got) > 0 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
