package geo

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Of many lines all that lie within a distance of a place are named, in their order, as a
// search of all finds them, and of far places hardly any.
func TestPolylineBoxesHoldAllThatIsNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 3, 16, 17, 300} {
		var lines []Polyline
		for range n {
			a := XY{X: 1000 * rng.Float64(), Y: 1000 * rng.Float64()}
			lines = append(lines, NewPolyline([]XY{a, a.Add(XY{X: 20 * rng.NormFloat64(), Y: 20 * rng.NormFloat64()})}))
		}
		boxes := NewPolylineBoxes(n, func(k int) Polyline { return lines[k] })
		named := 0
		for range 200 {
			at, distM := XY{X: 1000 * rng.Float64(), Y: 1000 * rng.Float64()}, 50*rng.Float64()
			got := boxes.Within(nil, at, distM)
			named += len(got)
			if !slices.IsSorted(got) {
				t.Fatalf("%d lines: %v are in no order", n, got)
			}
			for k, l := range lines {
				if math.Abs(l.Nearest(at).OffsetM) <= distM && !slices.Contains(got, k) {
					t.Errorf("%d lines: line %d within %.1f m is not named", n, k, distM)
				}
			}
		}
		if n > fewLines && named > 200*n/20 {
			t.Errorf("of %d lines %d are named for 200 places", n, named)
		}
		if all := boxes.Within(nil, XY{}, math.Inf(1)); len(all) != n {
			t.Errorf("%d of %d lines within any distance", len(all), n)
		}
	}
}
