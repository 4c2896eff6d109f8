package receiver

import (
	"math"
	"testing"
)

// biot is the field at a place of one ampere along r(u) from a to b, by the law of Biot and
// Savart summed by Simpson's rule: 1e-7 dl × s/s³. It shares nothing with the closed forms.
func biot(at Point, a, b float64, r func(u float64) Point) Point {
	const n = 20000
	var sum Point
	step := (b - a) / n
	for i := range n + 1 {
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		u := a + float64(i)*step
		dl, s := r(u+step/100).sub(r(u-step/100)), at.sub(r(u))
		c := dl.cross(s)
		f := weight * step / 3 * 1e-7 / (step / 50) / math.Pow(s.norm(), 3)
		sum = Point{sum.X + f*c.X, sum.Y + f*c.Y, sum.Z + f*c.Z}
	}
	return sum
}

// ray is a half-infinite line from a place, by the tangent of an angle; nearly its end.
const far = math.Pi/2 - 1e-4

func ray(from, way Point) func(u float64) Point {
	return func(u float64) Point {
		s := math.Tan(u)
		return Point{from.X + s*way.X, from.Y + s*way.Y, from.Z + s*way.Z}
	}
}

func plus(a, b Point, times float64) Point {
	return Point{a.X + times*b.X, a.Y + times*b.Y, a.Z + times*b.Z}
}

func TestHalfLineAgainstNumericalSum(t *testing.T) {
	for _, h := range []float64{0.6, 1, 2.4} {
		for _, along := range []float64{-5, -1, -0.3, 0, 0.5, 2} {
			b := biot(Point{Y: along}, 0, far, ray(Point{Z: -h}, Point{Y: 1}))
			near(t, "half a line", b.X*h/TeslaMetrePerAmpere, HalfLine(along, h), 1e-5)
			near(t, "its slope", HalfLineSlope(along, h), (HalfLine(along+1e-5, h)-HalfLine(along-1e-5, h))/2e-5, 1e-6)
		}
	}
}

// A tee: the current of the main before it, what is left of it beyond, and the branch square
// to it. Field, depth shown and null, the last for a small share.
func TestTeeAgainstNumericalSum(t *testing.T) {
	const d, gap = 1.2, 0.4
	tee := func(share float64, at Point) Point {
		before := biot(at, 0, far, ray(Point{Z: -d}, Point{Y: -1}))
		beyond := biot(at, 0, far, ray(Point{Z: -d}, Point{Y: 1}))
		branch := biot(at, 0, far, ray(Point{Z: -d}, Point{X: 1}))
		return plus(plus(plus(Point{}, before, -1), beyond, 1-share), branch, share)
	}
	for _, along := range []float64{-3, -0.8, 0, 0.4, 2} {
		for _, share := range []float64{0.3, -0.9} {
			low, high := tee(share, Point{Y: along}).X, tee(share, Point{Y: along, Z: gap}).X
			lnD, lnS := Tee(share, along, d, gap)
			near(t, "log field", lnS, math.Log(low*d/TeslaMetrePerAmpere), 2e-5)
			near(t, "log depth", lnD, math.Log(TwoAntennaDepthM(low, high, gap)/d), 1e-4)
		}
		const share = 0.01
		left, right := tee(share, Point{X: -0.05, Y: along}).Z, tee(share, Point{X: 0.05, Y: along}).Z
		null := 0.05 * (left + right) / (left - right)
		near(t, "null", null/share, TeeNullM(along, d), 0.01)
	}
}

// An open end by the tables of testdata/field and by what is left of the line when a tee takes
// all: the mean of its last half depth stands at the end itself.
func TestEndLossAgainstNumericalSum(t *testing.T) {
	for _, row := range rows(t, "wires.csv") {
		if v := figures(t, row[1:]); row[0] == "end" {
			near(t, "lost before an end", EndLoss(v[0]), 1-v[2], 0.0006)
		}
	}
	lost := func(x float64) float64 { lnD, _ := Tee(1, -x, 1, 0.4); return 1 - math.Exp(lnD) }
	near(t, "five depths before", EndLoss(5), lost(5), 0.001)
	mean := 0.0
	for i := range 1000 {
		mean += lost((float64(i)+0.5)/2000) / 1000
	}
	near(t, "over the last half depth", EndLoss(0), mean, 0.005)
	near(t, "fifty depths before, squared", 50*50*lost(50), 0.84, 0.005)
}

// A lead over the ground, at the height of the lower antenna, as far along the line as it is
// long and beyond.
func TestLeadAgainstNumericalSum(t *testing.T) {
	const d, lead = 1.1, 15.0
	for _, away := range []float64{4, 8, 30} {
		b := biot(Point{}, 0, lead, func(u float64) Point { return Point{X: u, Y: away} })
		near(t, "across, along", math.Hypot(b.X, b.Y), 0, 1e-15)
		near(t, "null", LeadNullM(1, d, 1, away, lead), d*d*math.Abs(b.Z)/TeslaMetrePerAmpere, 1e-6)
	}
}

// Elbows by the wires' field: how far off either leg the peak stands across the corner, inside,
// and how far from the line the null before one, outside.
func TestElbows(t *testing.T) {
	for turn, want := range map[float64]float64{45: 0.19, 90: 0.32, 135: 0.34} {
		a := turn * math.Pi / 180
		w := Wire{Points: []Point{{0, -1e4, -1}, {0, 0, -1}, {1e4 * math.Sin(a), 1e4 * math.Cos(a), -1}}, CurrentA: 1}
		inside := w.PeakM(Point{}, Point{X: math.Cos(a / 2), Y: -math.Sin(a / 2)}, 1)
		near(t, "peak inside", inside*math.Cos(a/2), want, 0.005)
		near(t, "formula", ElbowPeakM(a, 1), want, 0.07)
	}
	square := Wire{Points: []Point{{0, -1e4, -1}, {0, 0, -1}, {1e4, 0, -1}}, CurrentA: 1}
	for _, y := range []float64{1, 2, 3, 4, 5, 6} {
		null, _ := square.Across(Point{Y: -y}, Point{X: 1}, 0.4, 2)
		near(t, "null outside", -null, CornerNullM(y, 1), 0.012)
	}
}

// Another line far aside: peak, null and the peak of the whole field by what its field is at
// the line, against the walk across and against the greatest whole field there.
func TestMarksBesideAnotherField(t *testing.T) {
	const d, aside, share = 1.1, 4.0, 0.1
	s := pair(d, aside, d, share)
	other := Section{Lines: s.Lines[1:]}
	field := func(x float64) float64 { return real(other.Bh(x, 0)) / TeslaMetrePerAmpere }
	slope := (field(0.01) - field(-0.01)) / 0.02
	down := real(other.Bv(0, 0)) / TeslaMetrePerAmpere
	shown := s.Survey(0, 0.4)
	near(t, "peak", PeakOffM(slope, 0, d), shown.PeakM, 1e-4)
	near(t, "null", NullOffM(down, d), shown.NullM, 1e-3)
	near(t, "null, by a leg", LegNullM(d, aside, share), shown.NullM, 0.1*shown.NullM)
	best, most := 0.0, 0.0
	for x := -0.3; x <= 0.3; x += 1e-5 {
		if b := math.Hypot(real(s.Bh(x, 0)), real(s.Bv(x, 0))); b > most {
			best, most = x, b
		}
	}
	near(t, "peak of the whole field", WholePeakM(shown.PeakM, shown.NullOffsetM), best, 0.002)
	near(t, "null from it", shown.NullM-best, WholeNullTimes*shown.NullOffsetM, 0.002)
	// Beyond a depth there is no null; without a field it stays.
	near(t, "no null", NullOffM(-2, 1), 1, 0)
	near(t, "no field", NullOffM(0, 1), 0, 0)
}
