package bleed

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A neighbour that stays near on one side of a run speaks against a jump; one
// that stays near on both sides has been beside the line all along.
func TestSidesOnWhichLinesDoNotPart(t *testing.T) {
	at := func(before, after float64) meeting {
		col := &columns{}
		e := neighbour{name: "B"}
		for k := range 30 {
			aside := 0.1
			if k < 10 {
				aside = before
			} else if k >= 20 {
				aside = after
			}
			col.rd = append(col.rd, reading{Reading: trace.Reading{StationM: 2 * float64(k), Pos: geo.XY{X: 2 * float64(k)}}})
			e.at = append(e.at, neighbourAt{asideM: aside, sigmaM: 0.05, depthM: 1})
		}
		return meeting{neighbour: e, col: col, on: make([]onNeighbour, 30), ends: [2]geo.XY{{X: -500}, {X: 500}}}
	}
	for _, c := range []struct {
		before, after float64
		beside        int
		ok            bool
	}{{3, -3, 0, true}, {0.5, 3, 1, true}, {2, 0.4, 1, true}, {0.5, 0.5, 2, false}} {
		if beside, ok := at(c.before, c.after).parts(10, 19); beside != c.beside || ok != c.ok {
			t.Errorf("%g m before, %g m after: beside on %d sides, %t; want %d, %t", c.before, c.after, beside, ok, c.beside, c.ok)
		}
	}
}
