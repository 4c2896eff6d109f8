package bleed

import (
	"math"
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

// trackOf is the column of a walk with a least level of a fifth.
func trackOf(c *columns) track {
	t := c.track(mostCurrent, func(k int) (v, bend, least float64, ok bool) { return c.null[k], c.bend.null[k], 0.2, true })
	t.leastStep = leastRise
	return t
}

func TestLevelRuns(t *testing.T) {
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
		{"more current and back", block(0.4, 12, 15), none, 12, 15},
		{"a tee", block(-0.7, 20, 39), none, -1, -1},
		{"a hump over many readings", func(k int) float64 { return -0.8 * math.Exp(-math.Pow(float64(k-20)/5, 2)) }, none, -1, -1},
		{"three readings", block(-1, 20, 22), none, -1, -1},
		{"current that has gone", block(-3, 12, 19), none, -1, -1},
		{"too little", block(-0.15, 12, 19), none, -1, -1},
		{"what a bend does", block(-0.4, 12, 19), block(-0.35, 12, 19), -1, -1},
		{"more than a bend does", block(-1.1, 12, 19), block(-0.3, 12, 19), 12, 19},
		{"on a slope", func(k int) float64 { return block(-0.8, 12, 19)(k) - 0.004*float64(k) }, none, 12, 19},
	} {
		found := trackOf(leveled(c.shape, c.bend)).runs()
		switch {
		case c.from < 0 && len(found) > 0:
			t.Errorf("%s: taken for another level: %+v", c.name, found)
		case c.from >= 0 && (len(found) != 1 || found[0].from != c.from || found[0].to != c.to):
			t.Errorf("%s: found %+v, not readings %d to %d", c.name, found, c.from, c.to)
		}
	}
}

// Positions that err by more than a stride put readings of the level between others
// along the line: it is looked for in the order of the walk.
func TestLevelRunsInTheOrderOfTheWalk(t *testing.T) {
	c := leveled(func(k int) float64 {
		if k >= 12 && k <= 19 {
			return -1
		}
		return 0
	}, func(int) float64 { return 0 })
	// Along the line, readings 11 and 12 have changed places.
	c.walk[11], c.walk[12] = 12, 11
	c.null[11], c.null[12] = c.null[12], c.null[11]
	if found := trackOf(c).runs(); len(found) != 1 || found[0].from != 11 || found[0].to != 19 {
		t.Errorf("found %+v", found)
	}
}
