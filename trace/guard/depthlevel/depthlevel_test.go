package depthlevel

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// line is a walk of readings a stride apart over depths that scatter by 2 %.
func line(strideM float64, depths ...float64) []Reading {
	random := rand.New(rand.NewPCG(3, 9))
	rs := make([]Reading, len(depths))
	for k, d := range depths {
		rs[k] = Reading{StationM: float64(k) * strideM, DepthM: d * (1 + 0.02*random.NormFloat64()), Signal: math.NaN(), CurrentMA: math.NaN()}
	}
	return rs
}

// byItself are the steps that are something wherever they are.
func byItself(all []Step) []Step {
	return slices.DeleteFunc(all, func(s Step) bool { return s.Lies || s.Small })
}

func levels(before, n1 float64, on, n2 float64, after, n3 float64) (out []float64) {
	for _, l := range [][2]float64{{before, n1}, {on, n2}, {after, n3}} {
		for range int(l[1]) {
			out = append(out, l[0])
		}
	}
	return out
}

func TestStepsThereAndBack(t *testing.T) {
	for _, c := range []struct {
		name        string
		rs          []Reading
		after, back int
	}{
		{"a group that lies deeper", line(2, levels(1.1, 8, 1.6, 5, 1.1, 8)...), 8, 13},
		{"a group that lies higher", line(2, levels(1.1, 8, 0.6, 4, 1.1, 8)...), 8, 12},
		{"to the end", line(1.5, levels(0.9, 9, 1.5, 9, 1.5, 0)...), 9, 0},
	} {
		s := Find(c.rs, 0)
		if len(s) != 1 || s[0].After != c.after || s[0].Back != c.back {
			t.Errorf("%s: %+v", c.name, s)
			continue
		}
		if want := math.Abs(c.rs[c.after].DepthM - c.rs[0].DepthM); math.Abs(s[0].OffM-want) > 0.1*want {
			t.Errorf("%s: %.2f m off, want about %.2f", c.name, s[0].OffM, want)
		}
	}
}

func TestWhatALineDoesIsNoStep(t *testing.T) {
	ramp := line(1.5, levels(0.9, 8, 0.9, 0, 0.9, 0)...)
	for k := range 12 {
		ramp = append(ramp, Reading{StationM: 12 + 1.5*float64(k), DepthM: 0.9 + 0.1*float64(k), Signal: math.NaN(), CurrentMA: math.NaN()})
	}
	for name, rs := range map[string][]Reading{
		"level":                      line(2, levels(1.1, 20, 1.1, 0, 1.1, 0)...),
		"a ramp":                     ramp,
		"over strides of six metres": line(6, levels(1.1, 8, 1.6, 5, 1.1, 8)...),
		"a single slip":              line(2, levels(1.1, 8, 1.6, 1, 1.1, 8)...),
		"few readings":               line(2, 1.1, 1.6),
		"none":                       nil,
	} {
		if s := byItself(Find(rs, 0)); len(s) > 0 {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// Over one long line the signal is as the current over the depth (Ampère's law), and the
// current that a receiver derives of both stays.
func TestSignalAndCurrentTell(t *testing.T) {
	own := line(2, levels(1.1, 8, 1.6, 5, 1.1, 8)...)
	slip := line(2, levels(1.1, 8, 1.6, 5, 1.1, 8)...)
	derived := line(2, levels(1.1, 8, 1.6, 5, 1.1, 8)...)
	wrong := line(2, levels(1.1, 8, 1.6, 5, 1.1, 8)...)
	for k := range own {
		own[k].Signal = 50 / own[k].DepthM
		slip[k].Signal = 50 / 1.1
		derived[k].CurrentMA = 50
		wrong[k].CurrentMA = 50 * wrong[k].DepthM / 1.1
	}
	for name, c := range map[string]struct {
		rs   []Reading
		want int
	}{"the line's own by its signal": {own, 0}, "a slip by its signal": {slip, 1}, "the line's own by its current": {derived, 0}, "a slip by its current": {wrong, 1}} {
		if s := byItself(Find(c.rs, 0)); len(s) != c.want {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// A line that dips from 0.8 to 2.2 m over some ten metres, read with an error of 5 %, goes down
// over several readings: nothing steps. One reading made on the way between two levels leaves
// them levels.
func TestADipIsNoStep(t *testing.T) {
	found := 0
	for seed := range uint64(200) {
		random := rand.New(rand.NewPCG(seed, 2))
		var rs []Reading
		for x := 0.0; x <= 60; x += 1.5 {
			d := 0.8 + 1.4*math.Exp(-(x-30)*(x-30)/25)
			rs = append(rs, Reading{StationM: x, DepthM: d * (1 + 0.05*random.NormFloat64()), Signal: math.NaN(), CurrentMA: math.NaN()})
		}
		found += len(byItself(Find(rs, 0)))
	}
	if found > 10 {
		t.Errorf("%d steps in 200 dips", found)
	}
	if s := byItself(Find(line(1.5, 1, 1, 1, 1, 1, 1.25, 1.6, 1.6, 1.6, 1.6, 1.6, 1.6), 0)); len(s) != 1 {
		t.Errorf("%d steps with a reading on the way", len(s))
	}
}

// A current that stays as it was shows neither that a line went deeper for good nor that another
// receiver was taken up, unless depths come back, or step by more than two receivers differ by.
func TestCurrentAloneTellsNoScale(t *testing.T) {
	for _, c := range []struct {
		name   string
		depths []float64
		lies   bool
	}{
		{"a third more, to the end", levels(1.1, 12, 1.5, 12, 0, 0), false},
		{"a third more, and back", levels(1.1, 8, 1.5, 5, 1.1, 8), true},
		{"twice as much, to the end", levels(1.1, 12, 2.2, 12, 0, 0), true},
	} {
		rs := line(2, c.depths...)
		for k := range rs {
			rs[k].CurrentMA = 50
		}
		if s := Find(rs, 0); len(s) != 1 || s[0].Lies != c.lies {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
}

// A step that only the long levels on either side tell is slight, by its metres too; one that
// is told between short ones is not.
func TestStepThatLongLevelsTellIsSlight(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		slight   bool
	}{{1.1, 1.38, true}, {0.4, 0.55, true}, {1.1, 1.6, false}} {
		if s := Find(line(2, levels(c.from, 9, c.to, 9, 0, 0)...), 0); len(s) != 1 || s[0].Slight != c.slight || s[0].Small {
			t.Errorf("%.2f to %.2f m: %+v", c.from, c.to, s)
		}
	}
}

// A step that a line takes by itself now and then is told where the depths on either side are
// even for long: a fifth, or 0.15 m of a shallow line.
func TestStepBetweenLongLevels(t *testing.T) {
	for _, c := range []struct {
		name   string
		depths []float64
		want   int
	}{
		{"a fifth between long levels", levels(1.1, 9, 1.38, 9, 0, 0), 1},
		{"a fifth between short ones", levels(1.1, 5, 1.38, 5, 0, 0), 0},
		{"0.15 m of a shallow line", levels(0.5, 9, 0.65, 9, 0, 0), 1},
		{"0.15 m of it between short levels", levels(0.5, 5, 0.65, 5, 0, 0), 0},
		{"a tenth", levels(1.1, 9, 1.22, 9, 0, 0), 0},
	} {
		if s := byItself(Find(line(2, c.depths...), 0)); len(s) != c.want {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
}

// TestLargeStepsOverLongStrides: over a stride of ten metres a line goes to another depth by itself,
// but not by a factor of three for good; there its signal tells whether it does, and so does a
// depth between that was left out.
func TestLargeStepsOverLongStrides(t *testing.T) {
	for _, c := range []struct {
		name   string
		rs     []Reading
		signal bool
		left   []Left
		want   int
	}{
		{"to three times", line(10, levels(0.6, 8, 1.8, 6, 1.8, 0)...), false, nil, 1},
		{"to a third", line(10, levels(1.8, 5, 0.6, 9, 0.6, 0)...), false, nil, 1},
		{"to twice", line(10, levels(0.8, 8, 1.6, 6, 1.6, 0)...), false, nil, 0},
		{"and back", line(10, levels(0.6, 8, 1.8, 6, 0.6, 8)...), false, nil, 0},
		{"over fourteen metres", line(14, levels(0.6, 8, 1.8, 6, 1.8, 0)...), false, nil, 0},
		{"the signal falls with it", line(10, levels(0.6, 8, 1.8, 6, 1.8, 0)...), true, nil, 0},
		{"on a ramp", line(10, levels(0.6, 8, 1.8, 6, 1.8, 0)...), false, []Left{{75, 1.1}}, 0},
	} {
		for k := range c.rs {
			if c.signal {
				c.rs[k].Signal = 100 / c.rs[k].DepthM
			}
		}
		c.rs[8].Before = c.left
		if got := Find(c.rs, 0); len(got) != c.want || len(got) == 1 && !got[0].Large {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}
