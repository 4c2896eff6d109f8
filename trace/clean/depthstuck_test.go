package clean

import (
	"math"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// TestDepthsThatStandStill: a display that is held shows one figure where the depths
// before and behind scatter; one that is coarse shows it anyhow.
func TestDepthsThatStandStill(t *testing.T) {
	held := func(n int, depthM float64) trace.Trace {
		t := walked(30, func(int) float64 { return 1.2 })
		for i := 10; i < 10+n; i++ {
			t.Readings[i].DepthM = depthM
		}
		return t
	}
	coarse := walked(30, func(int) float64 { return 1.2 })
	for i := range coarse.Readings {
		coarse.Readings[i].DepthM = 1.2
		if i%7 == 0 {
			coarse.Readings[i].DepthM = 1.3
		}
	}
	// What else the receiver shows, by steps of some size, standing still with the depth.
	all := func(n int, stepMA float64) trace.Trace {
		t := held(n, 1.13)
		for i := range t.Readings {
			r := &t.Readings[i]
			r.CurrentMA = math.Round((60+3*math.Sin(float64(3*i*i)))/stepMA) * stepMA
			r.Signal = math.Round(500 + 20*math.Sin(float64(5*i*i)))
			if i >= 10 && i < 10+n {
				r.CurrentMA, r.Signal = 61, 507
			}
		}
		return t
	}
	// A display in coarse steps over a level line with a quiet signal: depth and the current
	// made of it are alike for three readings by chance, and the signal goes on.
	alive := func() trace.Trace {
		t := walked(44, func(int) float64 { return 1.75 })
		for i := range t.Readings {
			r := &t.Readings[i]
			r.Signal = 66 + 0.2*math.Sin(float64(7*i))
			r.CurrentMA = math.Round(110 * r.DepthM / 9.6)
			if i >= 18 && i < 21 {
				r.DepthM, r.CurrentMA = 1.81, 20
			}
		}
		return t
	}
	stood := all(4, 0.1)
	for i := 10; i < 14; i++ {
		stood.Readings[i].Pos = stood.Readings[10].Pos
	}
	// Of a short line some neighbours are alike by chance: how they scatter tells more.
	few := func(n int) trace.Trace {
		t := walked(n+14, func(int) float64 { return 1.3 })
		for i := range t.Readings {
			if r := &t.Readings[i]; i >= 8 && i < 8+n {
				r.DepthM = 1.36
			} else if i == 3 || i == n+10 {
				r.DepthM = t.Readings[i-1].DepthM
			}
		}
		return t
	}
	for name, c := range map[string]struct {
		t    trace.Trace
		want bool
	}{
		"four, and all else":            {all(4, 0.1), true},
		"three, and all else":           {all(3, 0.1), true},
		"two, and all else":             {all(2, 0.1), false},
		"three, and the signal goes on": {alive(), false},
		"four, standing":                {stood, false},
		"all else, and nothing stands":  {all(0, 0.1), false},

		"eight": {held(8, 1.13), true},
		"four":  {held(4, 1.13), false},
		"six of a few that scatter by several figures": {few(6), true},
		"four of a few": {few(4), false},
		"coarse":        {coarse, false},
		"never":         {held(0, 1), false},
	} {
		if got := causes(c.t, trace.Unknown); strings.Contains(got, "had stopped") != c.want {
			t.Errorf("%s: %q, want told %v", name, got, c.want)
		}
	}
}

// TestAntennasInPart: a part of a line whose depths stand otherwise to the antennas.
func TestAntennasInPart(t *testing.T) {
	walk := func(times float64) trace.Trace {
		t := walked(30, func(int) float64 { return 1 })
		for i := range t.Readings {
			r := &t.Readings[i]
			r.SignalLow, r.SignalHigh = 60/r.DepthM, 60/(r.DepthM+receiver.UsualGapM)
			if i >= 18 {
				r.DepthM *= times
			}
		}
		return t
	}
	for times, want := range map[float64]bool{1: false, 1.1: false, 1.3: true, 1.6: true} {
		if got := causes(walk(times), receiver.UsualGapM); strings.Contains(got, "that in the rest of it") != want {
			t.Errorf("%g times: %q, want told %v", times, got, want)
		}
	}
	// Three depths that do not follow the antennas over a hump are told with their rows;
	// one that sticks out is left to others.
	for n, want := range map[int]string{1: "", 3: "from line 17 to line 19"} {
		hump := walk(1)
		for i := range n {
			r := &hump.Readings[15+i]
			d := 0.6 + 0.01*float64(i)
			r.SignalLow, r.SignalHigh = 60/d, 60/(d+receiver.UsualGapM)
		}
		if got := causes(hump, receiver.UsualGapM); !strings.Contains(got, want) || (want == "") == strings.Contains(got, "that in the rest of it") {
			t.Errorf("%d readings of a hump not shown: %q, want %q", n, got, want)
		}
	}
}
