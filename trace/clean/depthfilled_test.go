package clean

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// TestDepthsThatWereNotRead: depths that follow from each other to the last digit are told
// with their rows, and those that a display rounded are not.
func TestDepthsThatWereNotRead(t *testing.T) {
	with := func(n int, change func(rs []trace.Reading)) trace.Trace {
		t := walked(n, func(int) float64 { return 1.2 })
		change(t.Readings)
		return t
	}
	series := func(n int, stepM float64) trace.Trace {
		return with(40, func(rs []trace.Reading) {
			for i := 12; i < 12+n; i++ {
				rs[i].DepthM = rs[11].DepthM + stepM*float64(i-11)
			}
		})
	}
	pasted := func(n int) trace.Trace {
		return with(40, func(rs []trace.Reading) {
			for i := range n {
				rs[22+i].DepthM = rs[4+i].DepthM
			}
		})
	}
	same := func(n int, depthM float64) trace.Trace {
		return with(n, func(rs []trace.Reading) {
			for i := range rs {
				rs[i].DepthM = depthM
			}
		})
	}
	for name, c := range map[string]struct {
		t    trace.Trace
		want string
	}{
		"a series":                   {series(12, 0.01), "11 depths in a row (lines 15 to 25 of the table) each differ from the one before by exactly the same amount"},
		"a series downwards":         {series(12, -0.02), "each differ from the one before"},
		"a few that step alike":      {series(4, 0.01), ""},
		"a block":                    {pasted(12), "12 depths in a row (lines 24 to 35 of the table) are those from line 6 on"},
		"a few that were before":     {pasted(5), ""},
		"one figure":                 {same(30, 1.13), "all 30 depths are exactly 1.13 m"},
		"one figure, a short line":   {same(12, 1.13), ""},
		"one figure of a coarse one": {same(30, 1.1), ""},
		"one figure but for two, finer": {with(40, func(rs []trace.Reading) {
			for i := range 38 {
				rs[i].DepthM = 1.1
			}
			rs[38].DepthM, rs[39].DepthM = 0.8, 0.79
		}), "38 depths in a row are exactly 1.10 m"},
		"one figure but for two, as coarse": {with(40, func(rs []trace.Reading) {
			for i := range 38 {
				rs[i].DepthM = 1.1
			}
			rs[38].DepthM, rs[39].DepthM = 1.2, 1.2
		}), ""},
		"read": {with(40, func([]trace.Reading) {}), ""},
	} {
		if got := causes(c.t, trace.Unknown); !strings.Contains(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestDepthsThatADisplayRounded: of lines that are level or go down evenly, read by a
// receiver that is quiet, a display's steps alone make no series, no block and no one
// figure that would be told, but for a few in ten thousand.
func TestDepthsThatADisplayRounded(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	walks, told := 0, 0
	for _, stepM := range []float64{0.001, 0.01, 0.05, 0.1, 0.0254, 0.03048} {
		for _, perM := range []float64{0, 0.0025, 0.005, 0.01, 0.02, 0.05, -0.01} {
			for range 100 {
				first, n := 0.5+1.5*rng.Float64(), 20+rng.IntN(80)
				if perM < 0 {
					first += 2
				}
				quiet := receiver.DepthNoiseRel * (0.25 + 0.75*rng.Float64())
				tr := walked(n, func(int) float64 { return 1 })
				for i := range tr.Readings {
					d := (first + perM*2*float64(i)) * (1 + quiet*rng.NormFloat64())
					tr.Readings[i].DepthM = math.Max(1, math.Round(d/stepM)) * stepM
				}
				walks++
				if got := causes(tr, trace.Unknown); strings.Contains(got, "as if they were") || strings.Contains(got, "one depth was typed") {
					told++
					t.Logf("step %g m, %g a metre, %d readings: %s", stepM, perM, n, got)
				}
			}
		}
	}
	if told > walks/1000 {
		t.Errorf("%d of %d walks are told of", told, walks)
	}
}

// How often steps are alike is one figure, in whatever order they are counted.
func TestAlikeStepsAreOneFigure(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	tr := walked(3000, func(int) float64 { return math.Round(100*(1+0.5*rng.Float64())) / 100 })
	var read []*trace.Reading
	for i := range tr.Readings {
		read = append(read, &tr.Readings[i])
	}
	first := alikeSteps(read)
	for range 20 {
		if again := alikeSteps(read); again != first {
			t.Fatalf("%v, then %v", first, again)
		}
	}
}

// A column that counts up throughout is a series from its second step on, of which each is
// looked at once.
func TestSeriesThroughout(t *testing.T) {
	tr := walked(200, func(int) float64 { return 1 })
	var read []*trace.Reading
	for i := range tr.Readings {
		tr.Readings[i].DepthM = 1 + 0.01*float64(i)
		read = append(read, &tr.Readings[i])
	}
	if from, n := depthSeries(read); from != 2 || n != 198 {
		t.Errorf("%d from %d on, want 198 from 2 on", n, from)
	}
}
