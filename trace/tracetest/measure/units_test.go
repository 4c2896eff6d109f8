package measure

import (
	"context"
	"math"
	"testing"

	"loamline.example/trace/tracetest"
)

// The same readings in metres and kilohertz, and in feet and hertz, give the same
// line, depth and bands to within what the tables' digits leave out.
func TestUnitsChangeNothing(t *testing.T) {
	for _, family := range []string{"straight", "elbow-90", "sweep"} {
		j, err := tracetest.Make(family, 71)
		if err != nil {
			t.Fatal(err)
		}
		metric, feet := j.Layout, j.Layout
		metric.Depth, metric.Elev, metric.HAcc, metric.Null, metric.Freq = "m", "m", "m", "m", "khz"
		feet.Depth, feet.Elev, feet.HAcc, feet.Null, feet.Freq = "ft", "ft", "ft", "ft", "hz"
		a, b := mappedCurve(t, j, metric), mappedCurve(t, j, feet)
		if len(a) != len(b) {
			t.Fatalf("%s: %d parts in metres, %d in feet", family, len(a), len(b))
		}
		for _, p := range a.samples() {
			if d, ok := b.distance(p.pos); !ok || d > 0.005 {
				t.Errorf("%s: the lines lie %.4f m apart", family, d)
				break
			}
		}
		first, last := a[0][0], b[0][0]
		if math.Abs(first.depthM-last.depthM) > 0.01 || math.Abs(first.wide95M-last.wide95M) > 0.005 {
			t.Errorf("%s: %+v in metres, %+v in feet", family, first, last)
		}
	}
}

func mappedCurve(t *testing.T, j tracetest.Job, l tracetest.Layout) curve {
	t.Helper()
	m, err := runMap(context.Background(), j, l)
	if err != nil {
		t.Fatal(err)
	}
	line, err := m.mainLine()
	if err != nil {
		t.Fatal(err)
	}
	return m.curve(line.Centerline)
}
