package fit

import (
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/geo"
)

// scattered are places with some twice, in cells of every sign.
func scattered(r *rand.Rand, n int, extentM float64) []geo.XY {
	pts := make([]geo.XY, n)
	for i := range pts {
		pts[i] = geo.XY{X: extentM * (r.Float64() - 0.5), Y: extentM * (r.Float64() - 0.5)}
		if i%17 == 16 {
			pts[i] = pts[i-5]
		}
	}
	return pts
}

// A grid that grows and one made over the same points find what looking at every
// point finds: those in the cells around, cell by cell in the order of the points.
func TestGridFindsTheCellsAround(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 15, 400} {
		pts := scattered(r, n, 30)
		grown := newCellGrid(1.5, n)
		for i, p := range pts {
			if grown.add(p) != int32(i) {
				t.Fatal("points get their numbers in order")
			}
		}
		for _, g := range []*cellGrid{grown, gridOver(pts, 1.5)} {
			for range 50 {
				p := geo.XY{X: 34 * (r.Float64() - 0.5), Y: 34 * (r.Float64() - 0.5)}
				var want, got []int32
				mid := cellAt(p, 1.5)
				for dx := int32(-1); dx <= 1; dx++ {
					for dy := int32(-1); dy <= 1; dy++ {
						for i, q := range pts {
							if (cellAt(q, 1.5) == cell{mid.x + dx, mid.y + dy}) {
								want = append(want, int32(i))
							}
						}
					}
				}
				g.around(p, 1, func(i int32) { got = append(got, i) })
				if !slices.Equal(got, want) {
					t.Fatalf("%v of %d points around %v, want %v", got, n, p, want)
				}
			}
		}
	}
}

// Of points all in one cell, and far out where cells have no number of their own
// any more, none gets lost.
func TestGridHoldsOddPoints(t *testing.T) {
	for _, p := range []geo.XY{{X: 3, Y: -4}, {X: 1e12, Y: -1e12}} {
		g := newCellGrid(1, 4)
		for range 100 {
			g.add(p)
		}
		n := int32(0)
		g.around(p, 0, func(i int32) {
			if i != n {
				t.Fatalf("point %d comes as number %d", i, n)
			}
			n++
		})
		if n != 100 {
			t.Errorf("%d of 100 points at %v", n, p)
		}
	}
}
