package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// A course that comes back 2 m beside itself is cut finely there, however far
// along it that is, and coarsely elsewhere.
func TestBendStationsSeeTheWayBack(t *testing.T) {
	path := geo.NewPolyline([]geo.XY{{X: 0}, {X: 300}, {X: 300, Y: 2}, {X: 0, Y: 2}})
	const stationM, depthM = 100, 1.0
	at := path.At(stationM)
	st := bendStations(path, stationM, depthM)
	if len(st) > 120 {
		t.Errorf("%d places for 602 m, want few", len(st))
	}
	for i := 1; i < len(st); i++ {
		near := min(st[i].at.Dist(at), st[i-1].at.Dist(at))
		if l := st[i].stationM - st[i-1].stationM; l > math.Max(depthM/2, bendStep/(1-bendStep)*near)+1e-9 {
			t.Errorf("a piece of %.2f m at station %.1f, %.2f m away", l, st[i].stationM, near)
		}
	}
}

// Where the fit's course turns, a mean null of what the turn is reckoned to do
// is no sign of anything: it may be off alike at all readings.
func TestScreenAllowsForBends(t *testing.T) {
	c := testColumns()
	for k := 10; k < 16; k++ {
		c.null[k] += 0.25
	}
	if !screenUnknown.sign(c, 0, len(c.rd)) {
		t.Fatal("six nulls of 0.25 m on a straight line are no sign")
	}
	for k := 10; k < 16; k++ {
		c.bend.null[k] = 0.25
	}
	if screenUnknown.sign(c, 0, len(c.rd)) {
		t.Error("six nulls of 0.25 m where a bend does as much are taken for a sign")
	}
}

// Beside its own way back a line's null follows how much current is lost
// between its legs: a pull by one step more of loss is half a sigma's surprise
// where that is allowed for, and cannot be noise where it is not.
func TestBendsAllowForLoss(t *testing.T) {
	c := testColumns()
	n := len(c.rd)
	y := make([]float64, n)
	c.bend.byLoss = func(k int) bendEffect { return bendEffect{nullM: -0.2 - 0.01*float64(k)} }
	for k := range y {
		y[k] = c.bend.byLoss(k).nullM
	}
	without, with := nullGaussian(c, 0, n, y), nullGaussian(c, 0, n, y)
	with.allowBends(c, 0, n, nullEffect)
	if gain := with.evidence() - without.evidence(); gain < 20 {
		t.Errorf("the loss explains %.1f nats of the null, want far more", gain)
	}
}

// A line that winds for tens of kilometres costs no more at each place than one of a few:
// of what lies farther along than legAlongM nothing is reckoned with.
func TestALongWindingLineCostsNoMoreAtAPlace(t *testing.T) {
	winding := func(rows int) geo.Polyline {
		var ps []geo.XY
		for k := range rows {
			from, to, y := 0.0, 500.0, 20*float64(k)
			if k%2 == 1 {
				from, to = to, from
			}
			ps = append(ps, geo.XY{X: from, Y: y}, geo.XY{X: to, Y: y})
		}
		return geo.NewPolyline(ps)
	}
	few, many := winding(8), winding(80)
	short, long := len(bendStations(few, few.Length()/2, 1)), len(bendStations(many, many.Length()/2, 1))
	if long > short {
		t.Errorf("%d places of %.0f m are reckoned with, %d of %.0f m", long, many.Length(), short, few.Length())
	}
}
