package fit

import (
	"testing"

	"loamline.example/geo"
)

// A local line reproduces a straight one (Cleveland 1979), at the ends too, where all
// neighbours lie to one side.
func TestLocalLineKeepsAStraightOne(t *testing.T) {
	w := &walk{obs: make([]observation, 12)}
	var kept []int32
	for i := range w.obs {
		w.obs[i].p = geo.XY{X: 3 + 2*float64(i), Y: 1 - 0.5*float64(i)}
		kept = append(kept, int32(i))
	}
	for k := range kept {
		for _, half := range []int{1, 3, 10} {
			close2(t, "off the line", w.localLine(kept, k, half).Dist(w.obs[k].p), 0, 1e-9)
		}
	}
}

// A handful of rows is a walk where going through them as filed is hardly longer than
// what they cover.
func TestAHandfulOfRowsInOrder(t *testing.T) {
	for _, c := range []struct {
		name   string
		alongM []float64
		walk   bool
	}{
		{"along", []float64{0, 2, 4, 6, 8}, true},
		{"one step back", []float64{0, 2, 4, 3.5, 6}, true},
		{"in no order", []float64{0, 8, 2, 6, 4}, false},
	} {
		w := &walk{obs: make([]observation, len(c.alongM))}
		for i, x := range c.alongM {
			w.obs[i].p = geo.XY{X: x}
		}
		if got := w.isWalk(); got != c.walk {
			t.Errorf("%s: a walk %v, want %v", c.name, got, c.walk)
		}
	}
}

// A hop to a far place counts for a few steps, whatever its length: the backbone follows
// the readings and not the one that lies far from all others.
func TestBackboneLeavesAFarPlace(t *testing.T) {
	w := &walk{stepM: 1}
	pts := []geo.XY{{X: 5, Y: 40}}
	for i := range 11 {
		pts = append(pts, geo.XY{X: float64(i)})
	}
	path := w.treePath(pts, 0.3)
	if n := len(path); n != 11 || path[0].Dist(path[n-1]) != 10 {
		t.Errorf("the path is %v", path)
	}
}
