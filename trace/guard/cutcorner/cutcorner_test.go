package cutcorner

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// across is the field of a straight wire from a to b across the horizontal way (wx, wy) at a
// place, but for a factor: Griffiths, Introduction to Electrodynamics, 4th edition, example
// 5.5, (cos θ1 - cos θ2)/s at the distance s, circling the wire.
func across(a, b, at [3]float64, wx, wy float64) float64 {
	sub := func(p, q [3]float64) [3]float64 { return [3]float64{p[0] - q[0], p[1] - q[1], p[2] - q[2]} }
	dot := func(p, q [3]float64) float64 { return p[0]*q[0] + p[1]*q[1] + p[2]*q[2] }
	u := sub(b, a)
	long := math.Sqrt(dot(u, u))
	for i := range u {
		u[i] /= long
	}
	w := sub(at, a)
	t := dot(w, u)
	r := [3]float64{w[0] - t*u[0], w[1] - t*u[1], w[2] - t*u[2]}
	s2 := dot(r, r)
	size := (t/math.Sqrt(s2+t*t) + (long-t)/math.Sqrt(s2+(long-t)*(long-t))) / s2
	bx, by := u[1]*r[2]-u[2]*r[1], u[2]*r[0]-u[0]*r[2]
	return size * (bx*wy - by*wx)
}

// shown is the depth that two antennas 0.4 m apart give over a corner of turn radians at the
// origin of a line depthM deep, for a receiver held along the way w; not a number where they
// give none.
func shown(at, w geo.XY, turn, depthM float64) float64 {
	const gapM, far = 0.4, 300
	before := [3]float64{-far, 0, -depthM}
	after := [3]float64{far * math.Cos(turn), far * math.Sin(turn), -depthM}
	corner := [3]float64{0, 0, -depthM}
	field := func(z float64) float64 {
		p := [3]float64{at.X, at.Y, z}
		return math.Abs(across(before, corner, p, w.X, w.Y) + across(corner, after, p, w.X, w.Y))
	}
	low, high := field(0), field(gapM)
	if low <= high {
		return math.NaN()
	}
	return gapM * high / (low - high)
}

// walk goes along a corner of turn, every metre, from cutM before it straight to cutM past it.
func walk(turn, depthM, cutM float64) []Reading {
	out := geo.XY{X: math.Cos(turn), Y: math.Sin(turn)}
	var rs []Reading
	add := func(at, w geo.XY) { rs = append(rs, Reading{at, shown(at, w, turn, depthM)}) }
	for s := -cutM - 8; s <= -cutM+1e-9; s++ {
		add(geo.XY{X: s}, geo.XY{X: 1})
	}
	a, b := geo.XY{X: -cutM}, out.Scale(cutM)
	w := b.Sub(a).Scale(1 / b.Dist(a))
	for n, k := max(2, int(a.Dist(b)+0.5)), 1; k < n; k++ {
		add(a.Lerp(b, float64(k)/float64(n)), w)
	}
	for s := cutM; s <= cutM+8; s++ {
		add(out.Scale(s), out)
	}
	return rs
}

func TestCutCorners(t *testing.T) {
	for _, turn := range []float64{math.Pi / 2, -math.Pi / 2, 100 * math.Pi / 180} {
		for _, cutM := range []float64{1.5, 2, 2.5} {
			cuts := Find(walk(turn, 0.9, cutM), 0.02)
			if len(cuts) != 1 || cuts[0].Corner.Norm() > 0.2 {
				t.Errorf("turn %.1f, %.1f m before the corner: %+v", turn, cutM, cuts)
			}
		}
	}
}

// A line that itself goes from leg to leg aslant, by two elbows, shows its own depth there,
// and one that was walked to its corner has nothing between.
func TestNoCutCorner(t *testing.T) {
	own := walk(math.Pi/2, 0.9, 2)
	for i := range own {
		own[i].DepthM = 0.9
	}
	for name, rs := range map[string][]Reading{"two elbows": own, "walked to the corner": walk(math.Pi/2, 0.9, 0.01), "straight on": walk(0, 0.9, 2), "few": own[:5], "none": nil} {
		if cuts := Find(rs, 0.02); len(cuts) > 0 {
			t.Errorf("%s: %+v", name, cuts)
		}
	}
}
