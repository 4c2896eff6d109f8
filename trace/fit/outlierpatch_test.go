package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// movedPatch reads a path and moves some of its readings by one leap.
func movedPatch(pts []geo.XY, from, to int, by geo.XY, seed uint64) []reading {
	in := readAlong(pts, 3.7, seed)
	for i := from; i < to; i++ {
		in[i].Pos = in[i].Pos.Add(by)
	}
	return in
}

// A false fix holds for a good while: many readings that agree with each other, on a
// straight way, in a curve or over an elbow, and the walk leaps to them and back.
func TestManyThatLeapTogether(t *testing.T) {
	elbow := []geo.XY{{X: 0, Y: 0}, {X: 90, Y: 0}, {X: 120, Y: 60}}
	var curve []geo.XY
	for deg := 0.0; deg <= 100; deg++ {
		s, c := math.Sincos(deg * math.Pi / 180)
		curve = append(curve, geo.XY{X: 60 * s, Y: 60 - 60*c})
	}
	for _, c := range []struct {
		name     string
		pts      []geo.XY
		from, to int
		by       geo.XY
	}{
		{"straight", elbow, 6, 15, geo.XY{X: 3, Y: 7}},
		{"over an elbow", elbow, 20, 29, geo.XY{X: 9, Y: -9}},
		{"in a curve", curve, 9, 17, geo.XY{X: -5, Y: 6}},
	} {
		for seed := uint64(1); seed <= 4; seed++ {
			in := movedPatch(c.pts, c.from, c.to, c.by, seed)
			res := fitted(t, in)
			for i, v := range res.Verdicts {
				leapt := i >= c.from && i < c.to
				if o, is := v.Why.(remark.Outlier); leapt && !(is && o.From == remark.FromStraightOn && o.N == c.to-c.from) {
					t.Errorf("%s, seed %d: reading %d is %d: %#v", c.name, seed, i, v.Fate, v.Why)
				}
				if !leapt && v.Fate != Used {
					t.Errorf("%s, seed %d: reading %d is set aside", c.name, seed, i)
				}
			}
			truth := geo.NewPolyline(c.pts)
			for i, r := range in {
				if d := math.Abs(path(res).Nearest(truth.Nearest(r.Pos).At).OffsetM); (i < c.from || i >= c.to) && d > 0.2 {
					t.Errorf("%s, seed %d: the line is %.2f m off at reading %d", c.name, seed, d, i)
				}
			}
		}
	}
}

// Where the line itself goes aside and comes back, by fittings or round a sharp bend,
// there is no leap to ask about.
func TestNoLeapWhereTheLineGoesAside(t *testing.T) {
	for name, pts := range map[string][]geo.XY{
		"an offset":    {{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 8}, {X: 70, Y: 8}, {X: 70, Y: 0}, {X: 120, Y: 0}},
		"a sharp bend": {{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 20, Y: 45}},
	} {
		for seed := uint64(1); seed <= 6; seed++ {
			w := newWalk(readAlong(pts, 3.7, seed))
			if all := w.outlierPatches(); len(all) > 0 {
				t.Errorf("%s, seed %d: %+v", name, seed, all)
			}
			for i, v := range fitted(t, readAlong(pts, 3.7, seed)).Verdicts {
				if o, is := v.Why.(remark.Outlier); is && o.From == remark.FromStraightOn {
					t.Errorf("%s, seed %d: reading %d is said to have leapt with others", name, seed, i)
				}
			}
		}
	}
}

// A ring is one arc, however far round it goes.
func TestRings(t *testing.T) {
	for _, turnDeg := range []float64{200, 270, 330} {
		var pts []geo.XY
		for deg := 0.0; deg <= turnDeg; deg++ {
			s, c := math.Sincos(deg * math.Pi / 180)
			pts = append(pts, geo.XY{X: 15 * c, Y: 15 * s})
		}
		for seed := uint64(1); seed <= 4; seed++ {
			in := readAlong(pts, 3, seed)
			res := fitted(t, in)
			if aside := setAside(res); len(aside) > 0 {
				t.Errorf("%g degrees, seed %d: readings %v set aside", turnDeg, seed, aside)
			}
			for i, r := range in {
				if d := math.Abs(path(res).Nearest(r.Pos).OffsetM); d > 0.1 {
					t.Errorf("%g degrees, seed %d: the line is %.2f m off reading %d", turnDeg, seed, d, i)
				}
			}
		}
	}
}

// A walk of 6 m strides past an offset of 1.8 m, by a short stride in and one four times the
// usual out of it: places were left out there, as by the long stride before it, and nothing
// leapt by 10 m along the walk. Where no other stride is as long it may have.
func TestPlacesLeftOutAreNoLeap(t *testing.T) {
	for _, c := range []struct {
		inM, jitterM, beforeM float64 // the stride in, and by how much others and the one before the last are longer
		leaps                 bool
	}{{3, 2, 19, false}, {0.5, 0.7, 0, true}} {
		var in []reading
		at := geo.XY{}
		for i := range 30 {
			q := plain(at.X, at.Y)
			q.TimeS, q.SigmaM, q.Fix = float64(15*i), 0.03, 4
			in = append(in, q)
			switch stride := 6 + c.jitterM*math.Sin(float64(i*i)); i {
			case 14:
				at = at.Add(geo.XY{X: c.inM, Y: 1.8})
			case 19:
				at = at.Add(geo.XY{X: 22, Y: -1.8})
			case 18:
				at.X += stride + c.beforeM
			default:
				at.X += stride
			}
		}
		w := newWalk(in)
		w.makeWalk()
		if all := w.outlierPatches(); len(all) > 0 != c.leaps {
			t.Errorf("a stride %v m longer before: %d runs that may have leapt", c.beforeM, len(all))
		}
	}
}
