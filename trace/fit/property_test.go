package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"loamline.example/geo"
)

// fitted runs the fit and wants a line.
func fitted(t *testing.T, in []reading) Result {
	t.Helper()
	res := sane(t, "fit", in)
	if len(res.Parts) == 0 {
		t.Fatal("no line")
	}
	return res
}

// bits are the vertices of a result as numbers that can be compared: NaN differs
// from itself.
func bits(res Result) (out [][7]uint64) {
	for _, p := range res.Parts {
		for _, v := range p.Vertices {
			var b [7]uint64
			for k, x := range []float64{v.Pos.X, v.Pos.Y, v.StationM, v.DepthM, v.Depth95M, v.Horizontal95M, v.Common95M} {
				b[k] = math.Float64bits(x)
			}
			out = append(out, b)
		}
		out = append(out, [7]uint64{}) // the part's end
	}
	return out
}

func path(res Result) geo.Polyline {
	var pts []geo.XY
	for _, p := range res.Parts {
		for _, v := range p.Vertices {
			pts = append(pts, v.Pos)
		}
	}
	return geo.NewPolyline(pts)
}

// farthestApart is how far one line is from another at most, the first and last
// metre and the surroundings of given places left out.
func farthestApart(a, b geo.Polyline, butNear ...geo.XY) float64 {
	worst := 0.0
	for s := 1.0; s < a.Length()-1; s += 0.5 {
		p, off := a.At(s), false
		for _, c := range butNear {
			off = off || p.Dist(c) < 3
		}
		if !off {
			worst = math.Max(worst, math.Abs(b.Nearest(p).OffsetM))
		}
	}
	return worst
}

// corners are the places of the corners of a result.
func corners(res Result) []geo.XY {
	var out []geo.XY
	for _, p := range res.Parts {
		for _, v := range p.Vertices {
			if v.Corner {
				out = append(out, v.Pos)
			}
		}
	}
	return out
}

// someWalks are made-up walks of every shape with some blunders.
func someWalks(t *testing.T, each func(t *testing.T, tr truth)) {
	for i, shape := range []string{"straight", "elbow90", "elbows", "sweep", "s", "wander"} {
		spec := walkSpec{shape: shape, sigma: []float64{0.015, 0.3}[i%2], share: 0.6, tauS: 90, stepM: 2, blunders: 0.06, stated: 1, timed: true}
		t.Run(shape, func(t *testing.T) { each(t, made(spec, uint64(40+i))) })
	}
}

// Where the walk is on the globe changes nothing but the place of the line.
func TestTranslation(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		by := geo.XY{X: 3517, Y: -8230}
		moved := append([]reading(nil), tr.readings...)
		back := append([]geo.XY(nil), path(fitted(t, tr.readings)).Points...)
		for i := range moved {
			moved[i].Pos = moved[i].Pos.Add(by)
		}
		there := path(fitted(t, moved)).Points
		for i := range there {
			there[i] = there[i].Sub(by)
		}
		if d := farthestApart(geo.NewPolyline(there), geo.NewPolyline(back)); d > 1e-6 {
			t.Errorf("moved by %v the line differs by %g m", by, d)
		}
	})
}

// Turning the plane turns the line.
func TestRotation(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		sin, cos := math.Sincos(0.7)
		turned := append([]reading(nil), tr.readings...)
		for i, r := range turned {
			turned[i].Pos = geo.XY{X: r.Pos.X*cos - r.Pos.Y*sin, Y: r.Pos.X*sin + r.Pos.Y*cos}
		}
		got := path(fitted(t, turned)).Points
		for i, p := range got {
			got[i] = geo.XY{X: p.X*cos + p.Y*sin, Y: -p.X*sin + p.Y*cos}
		}
		if d := farthestApart(geo.NewPolyline(got), path(fitted(t, tr.readings))); d > 0.02*tr.sigmaM+1e-4 {
			t.Errorf("turned, the line differs by %g m", d)
		}
	})
}

// A walk the other way gives the same line the other way, to about the noise:
// the order in which pieces grow differs, and a reading beside an elbow may make
// it a bend.
func TestReversal(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		n := len(tr.readings)
		back := make([]reading, n)
		for i, r := range tr.readings {
			r.TimeS = -r.TimeS
			back[n-1-i] = r
		}
		a, b := fitted(t, tr.readings), fitted(t, back)
		pa, pb := path(a), path(b)
		if d := farthestApart(pa, pb, append(corners(a), corners(b)...)...); d > 2*math.Hypot(tr.sigmaM, 0.03) {
			t.Errorf("walked the other way, the line differs by %g m", d)
		}
		if pa.Points[0].Dist(pb.Points[0]) < pa.Points[0].Dist(pb.Points[len(pb.Points)-1]) {
			t.Error("the line doesn't run in the direction of travel")
		}
	})
}

// With times the order of the rows means nothing.
func TestRowOrderWithTimes(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		r := rand.New(rand.NewPCG(8, 8))
		mixed := append([]reading(nil), tr.readings...)
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		a, b := fitted(t, tr.readings), fitted(t, mixed)
		if !reflect.DeepEqual(bits(a), bits(b)) {
			t.Error("shuffled rows give another line")
		}
	})
}

// The same input gives the same result, to the last bit.
func TestDeterminism(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		a, b := fitted(t, tr.readings), fitted(t, tr.readings)
		a.Noise.StatedM, b.Noise.StatedM = 0, 0 // NaN differs from itself
		if !reflect.DeepEqual(bits(a), bits(b)) || len(a.Verdicts) != len(b.Verdicts) {
			t.Error("twice the same input, two results")
		}
	})
}

// An outlier hours later and far away is set aside and changes the line by
// no more than a sliver of the noise.
func TestFarStrayChangesNothing(t *testing.T) {
	someWalks(t, func(t *testing.T, tr truth) {
		last := tr.readings[len(tr.readings)-1]
		outlierCost := last
		outlierCost.TimeS += 7200
		outlierCost.Pos = geo.XY{X: last.Pos.X + 140, Y: last.Pos.Y + 310}
		a, b := fitted(t, tr.readings), fitted(t, append(append([]reading(nil), tr.readings...), outlierCost))
		if v := b.Verdicts[len(tr.readings)]; v.Fate == Used || v.Fate == DepthSpike {
			t.Fatal("the outlier is used")
		}
		if d := farthestApart(path(a), path(b)); d > 0.15*tr.sigmaM+1e-3 {
			t.Errorf("the outlier moves the line by %g m", d)
		}
	})
}

// The context's error is the only one.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Line(ctx, asRead(longWalk(500)), Options{}); err != context.Canceled {
		t.Errorf("error %v, want context.Canceled", err)
	}
}
