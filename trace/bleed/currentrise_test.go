package bleed

import (
	"math"
	"testing"
)

func TestRises(t *testing.T) {
	slope := func(k int) float64 { return -0.02 * float64(k) }
	step := func(by float64, at int) func(int) float64 {
		return func(k int) float64 {
			if k >= at {
				return by
			}
			return 0
		}
	}
	sum := func(fs ...func(int) float64) func(int) float64 {
		return func(k int) (v float64) {
			for _, f := range fs {
				v += f(k)
			}
			return v
		}
	}
	gradual := func(k int) float64 { return math.Max(0, math.Min(1, float64(k-20)/6)) }
	for _, c := range []struct {
		name     string
		shape    func(k int) float64
		away     float64
		aside    bool // the marks step aside
		from, to int  // -1 for none
	}{
		{"a rise to the end of the walk", sum(slope, step(1, 20)), 0, false, 14, 39},
		{"a rise over six metres", sum(slope, gradual), 0, false, 20, 39},
		{"a tee", sum(slope, step(-1, 20)), 0, false, -1, -1},
		{"a tee on the way to the transmitter", func(k int) float64 { return -slope(k) + step(1, 20)(k) }, 0, false, -1, -1},
		{"a fall on the way to the transmitter", func(k int) float64 { return -slope(k) + step(-1, 20)(k) }, 0, false, 0, 25},
		{"a rise and back", sum(slope, step(1, 15), step(-1, 27)), 0, false, 15, 26},
		{"a fall and back: what lies between is another's", sum(slope, step(-1, 15), step(1, 27)), 0, false, 15, 26},
		{"nothing tells which way it falls", step(1, 20), 0, false, -1, -1},
		{"the transmitter's place tells", step(1, 20), 1, false, 14, 39},
		{"it tells the other way", step(1, 20), -1, false, -1, -1},
		{"a tee on the way to the transmitter past a swell", func(k int) float64 {
			return 0.01*float64(k) + 0.1*math.Exp(-math.Pow(float64(k-10)/3, 2)) + step(0.8, 30)(k)
		}, 0, false, -1, -1},
		{"too little", sum(slope, step(0.3, 20)), 0, false, -1, -1},
	} {
		none := func(int) float64 { return 0 }
		track := trackOf(leveled(c.shape, none))
		found := track.rises(func(float64) float64 { return c.away }, func(int, int) bool { return false }, func(int, int) bool { return c.aside })
		switch {
		case c.from < 0 && len(found) > 0:
			t.Errorf("%s: taken for a rise: %+v", c.name, found)
		case c.from >= 0 && (len(found) != 1 || max(found[0].from-c.from, c.from-found[0].from, found[0].to-c.to, c.to-found[0].to) > 2):
			t.Errorf("%s: found %+v, not values %d to %d", c.name, found, c.from, c.to)
		}
		if tee := track.rises(func(float64) float64 { return c.away }, func(int, int) bool { return true }, func(int, int) bool { return c.aside }); len(tee) > 0 {
			t.Errorf("%s: where a branch leaves it is taken for a rise", c.name)
		}
	}
	track := trackOf(leveled(step(1, 20), func(int) float64 { return 0 }))
	found := track.rises(func(float64) float64 { return 0 }, func(int, int) bool { return false }, func(int, int) bool { return true })
	if len(found) != 2 || !found[0].either || !found[1].either || found[0].from != 0 || found[1].to != 39 {
		t.Errorf("marks that step aside where the current does, and nothing tells which side is the line's: %+v", found)
	}
}

// A current that has fallen along the walk and swells next to the step, as over another
// line's onset, still has nowhere to come from: the rise is one whatever the slopes beside it.
func TestRiseOutOfAValley(t *testing.T) {
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	walk := func(fallen float64) track {
		tr := track{most: mostCurrent, sigma: 0.02, leastStep: leastRise}
		for k := range 84 {
			v := fallen * (1 - math.Min(1, float64(k)/25))
			if k > 25 && k < 56 {
				v += 0.008 * float64(k-25)
			}
			if k >= 56 {
				v += 0.9 - 0.012*float64(k-56)
			}
			tr.v, tr.on, tr.stationM = append(tr.v, v+0.02*pattern[k%len(pattern)]), append(tr.on, k), append(tr.stationM, 1.2*float64(k))
		}
		return tr
	}
	unknown := func(float64) float64 { return 0 }
	no := func(int, int) bool { return false }
	if found := walk(0.5).rises(unknown, no, no); len(found) != 1 || !found[0].valley || found[0].to != 83 || found[0].from < 48 || found[0].from > 57 {
		t.Errorf("a rise out of a valley: %+v", found)
	}
	if found := walk(0).rises(unknown, no, no); len(found) != 0 {
		t.Errorf("a tee on the way to the transmitter: %+v", found)
	}
}
