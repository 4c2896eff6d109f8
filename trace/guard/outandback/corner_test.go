package outandback

import (
	"testing"

	"loamline.example/geo"
)

// Legs along X and along Y, carried on to where they meet; by arithmetic.
func TestCorner(t *testing.T) {
	for name, c := range map[string]struct {
		before, after [2]geo.XY
		want          geo.XY
		ok            bool
	}{
		"ahead of both":   {[2]geo.XY{{X: 0}, {X: 10}}, [2]geo.XY{{X: 20, Y: 25}, {X: 20, Y: 15}}, geo.XY{X: 20}, true},
		"behind the one":  {[2]geo.XY{{X: 0}, {X: 30}}, [2]geo.XY{{X: 20, Y: 25}, {X: 20, Y: 15}}, geo.XY{}, false},
		"leads on":        {[2]geo.XY{{X: 0}, {X: 10}}, [2]geo.XY{{X: 20, Y: 5}, {X: 20, Y: 15}}, geo.XY{}, false},
		"parallel":        {[2]geo.XY{{X: 0}, {X: 10}}, [2]geo.XY{{X: 40, Y: 5}, {X: 30, Y: 5}}, geo.XY{}, false},
		"meet far off":    {[2]geo.XY{{X: 0}, {X: 10}}, [2]geo.XY{{X: 0, Y: 10}, {X: 10, Y: 6}}, geo.XY{}, false},
		"no way to a leg": {[2]geo.XY{{X: 10}, {X: 10}}, [2]geo.XY{{X: 20, Y: 25}, {X: 20, Y: 15}}, geo.XY{}, false},
	} {
		if at, ok := Corner(c.before, c.after); ok != c.ok || at.Dist(c.want) > 1e-9 {
			t.Errorf("%s: %v %v, want %v %v", name, at, ok, c.want, c.ok)
		}
	}
}
