package bleed

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/trace"
)

// leveled is a walk of forty readings whose column a shape bends away from zero, by
// noise of a hundredth that repeats itself.
func leveled(shape, bend func(k int) float64) *columns {
	const n = 40
	c := &columns{rd: make([]reading, n), airCoupled: make([]bool, n), null: make([]float64, n)}
	c.bend.null = make([]float64, n)
	for k := range n {
		c.rd[k] = reading{Reading: trace.Reading{StationM: float64(k), HAccM: 0.02, Fix: 4}, index: int32(k)}
		c.walk = append(c.walk, k)
		c.null[k], c.bend.null[k] = shape(k)+0.01*math.Sin(float64(7*k)), bend(k)
	}
	return c
}

// trackOf is the column of a walk with a least step of a fifth.
func trackOf(c *columns) track {
	return c.track(leastFall, func(k int) (v, bend, figure float64, ok bool) { return c.null[k], c.bend.null[k], 0, true })
}

func noBranch(int, int) bool { return false }

// A level that another step takes back is a run on another level, one that stays is not; nor is
// what a bend does.
func TestStepsThatTakeEachOtherBack(t *testing.T) {
	none := func(int) float64 { return 0 }
	block := func(by float64, from, to int) func(int) float64 {
		return func(k int) float64 {
			if k >= from && k <= to {
				return by
			}
			return 0
		}
	}
	for _, c := range []struct {
		name        string
		shape, bend func(k int) float64
		from, to    int // -1 for none
	}{
		{"a third of the current and back", block(-1.1, 12, 19), none, 12, 19},
		{"more current and back", block(0.4, 12, 19), none, 12, 19},
		{"half the current over five readings", block(-0.7, 12, 16), none, 12, 16},
		{"a tee", block(-0.7, 20, 39), none, -1, -1},
		{"too little", block(-0.15, 12, 19), none, -1, -1},
		{"what a bend does", block(-0.4, 12, 19), block(-0.35, 12, 19), -1, -1},
		{"more than a bend does", block(-1.1, 12, 19), block(-0.3, 12, 19), 12, 19},
		{"on a slope", func(k int) float64 { return block(-0.8, 12, 19)(k) - 0.004*float64(k) }, none, 12, 19},
	} {
		tr := trackOf(leveled(c.shape, c.bend))
		found := tr.runs(noBranch)
		if len(found) > 0 && !tr.leftOf(found[0]) {
			found = nil
		}
		switch {
		case c.from < 0 && len(found) > 0:
			t.Errorf("%s: taken for another level: %+v", c.name, found)
		case c.from >= 0 && (len(found) != 1 || found[0][0].after != c.from || found[0][1].before != c.to+1):
			t.Errorf("%s: found %+v, not readings %d to %d", c.name, found, c.from, c.to)
		}
		if found := tr.runs(func(int, int) bool { return true }); len(found) > 0 {
			t.Errorf("%s: where branches leave they are taken for another level", c.name)
		}
	}
}

// Positions that err by more than a stride put readings of the level between others
// along the line: it is looked for in the order of the walk.
func TestStepsInTheOrderOfTheWalk(t *testing.T) {
	c := leveled(func(k int) float64 {
		if k >= 12 && k <= 19 {
			return -1
		}
		return 0
	}, func(int) float64 { return 0 })
	// Along the line, readings 11 and 12 have changed places.
	for k := range c.rd {
		c.rd[k].HAccM = 1
	}
	c.walk[11], c.walk[12] = 12, 11
	c.null[11], c.null[12] = c.null[12], c.null[11]
	if found := trackOf(c).runs(noBranch); len(found) != 1 || found[0][0].after != 12 || found[0][1].before != 20 {
		t.Errorf("found %+v", found)
	}
}

// Which way the current falls along a walk tells on which side of a step it rises against
// that: a tee is none.
func TestWayOfTheFall(t *testing.T) {
	for _, c := range []struct {
		name  string
		slope float64 // a reading
		by    float64 // at the twentieth
		want  float64
	}{
		{"away from the transmitter, a rise", -0.012, 1, 1},
		{"away from the transmitter, a tee", -0.012, -1, 1},
		{"on the way to it, a tee", 0.012, 1, -1},
		{"on the way to it, a fall", 0.012, -1, -1},
		{"nothing tells", 0, 1, 0},
	} {
		tr := trackOf(leveled(func(k int) float64 {
			v := c.slope * float64(k)
			if k >= 20 {
				v += c.by
			}
			return v
		}, func(int) float64 { return 0 }))
		pairs, found := paired(tr.edges(noBranch))
		if len(pairs) > 0 || len(found) != 1 || math.Abs(found[0].by-c.by) > 0.1 {
			t.Errorf("%s: steps %+v and %+v", c.name, pairs, found)
			continue
		}
		if got := tr.falls(found[0].before, found[0].after, 0, len(tr.v)); got != c.want {
			t.Errorf("%s: the current falls %v along the walk, not %v", c.name, got, c.want)
		}
	}
}

// What lies on a run tells it where the few values next to an end are less sure, and does not
// hide it where both ends are sure.
func TestRunsAmongScatter(t *testing.T) {
	for _, c := range []struct {
		by, scatter float64
		to          int // from reading 12
		least       int // runs told, of 100 walks
	}{
		{-0.4, 0.07, 16, 38}, // 34 by ends of riseSigmas alone
		{-0.6, 0.08, 27, 88}, // some 75 by ends of endSigmas alone
	} {
		told := 0
		for seed := range uint64(100) {
			random := rand.New(rand.NewPCG(3, seed))
			tr := trackOf(leveled(func(k int) float64 {
				v := c.scatter * random.NormFloat64()
				if k >= 12 && k <= c.to {
					v += c.by
				}
				return v
			}, func(int) float64 { return 0 }))
			if len(tr.runs(noBranch)) == 1 {
				told++
			}
		}
		if told < c.least {
			t.Errorf("to reading %d: %d runs of 100 told, want %d", c.to, told, c.least)
		}
	}
}
