package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

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

// looseWalk is a walk of readings at places, each with the same stated accuracy.
func looseWalk(sigmaM float64, places []geo.XY) *walk {
	in := make([]reading, len(places))
	for i, p := range places {
		in[i] = plainReading(p, sigmaM)
	}
	return newWalk(in)
}

func plainReading(p geo.XY, sigmaM float64) reading {
	r := trace.NewReading()
	r.Pos, r.HAccM, r.Fix = p, sigmaM, trace.FixFloat
	return offered([]trace.Reading{r}, Options{})[0]
}

// Two passes over one line lie beside each other by what their positions err, and the
// backbone is one way along both: the net widens until it holds them. Two passes farther
// apart than positions err are two legs.
func TestBackboneOfTwoPasses(t *testing.T) {
	for _, c := range []struct {
		apartM      float64
		least, most float64 // lengths of the line
	}{{0.8, 0.9, 1.3}, {6, 1.8, 2.5}} {
		var places []geo.XY
		for i := range 80 {
			p := geo.XY{X: float64(i)}
			if i >= 40 {
				p = geo.XY{X: float64(79 - i), Y: c.apartM}
			}
			places = append(places, p)
		}
		w := looseWalk(0.1, places)
		if got := geo.NewPolyline(w.backbone()).Length() / 39; got < c.least || got > c.most {
			t.Errorf("passes %g m apart: the backbone is %.2f lengths of the line", c.apartM, got)
		}
	}
}

// Readings at the ends have places along the backbone of their own, and none lies past its
// ends: nodes are means of readings, so that its own ends lie inside of the outermost.
func TestBackboneHoldsItsEnds(t *testing.T) {
	var places []geo.XY
	for i := range 60 {
		places = append(places, geo.XY{X: 0.25 * float64(i), Y: 0.3 * math.Sin(7*float64(i))})
	}
	w := looseWalk(0.3, places)
	line := geo.NewPolyline(w.backbone())
	w.place(line)
	for i := range w.obs {
		if s := w.obs[i].stationM; !(s > 0) || !(s < line.Length()) {
			t.Errorf("reading %d lies at %.2f m of %.2f m", i, s, line.Length())
		}
	}
}
