package guard

import (
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// drawnThrough is a line drawn through the places that were read.
func drawnThrough(ps []geo.XY) *trace.Line { return read(line(0.03, ps...), ps...) }

// Places on either side of the limits that tell a step, a kink, a sweep and a line
// beside itself from the bends of a line; the limits themselves are common practice,
// no source.
func TestLimitsOfShapes(t *testing.T) {
	sideways := func(byM float64) []geo.XY {
		return along(21, func(x float64) float64 { return byM * b2f(x >= 20) })
	}
	// A bend of 8 degrees a stride of 2 m, in which the sixth stride slants by more.
	kinked := func(slantDeg float64) []geo.XY {
		out := []geo.XY{{}}
		for k := range 12 {
			h := 8 * float64(k)
			if k == 6 {
				h += slantDeg
			}
			at := out[len(out)-1]
			out = append(out, geo.XY{X: at.X + 2*math.Cos(h*math.Pi/180), Y: at.Y + 2*math.Sin(h*math.Pi/180)})
		}
		return out
	}
	// ups gives places every metre whose sides are the digits, in units of highM.
	ups := func(digits string, highM float64) []geo.XY {
		var out []geo.XY
		for i, d := range "0000000000" + digits + strings.Repeat(digits[len(digits)-1:], 10) {
			out = append(out, geo.XY{X: float64(i), Y: highM * float64(d-'0')})
		}
		return out
	}
	legs := func(apartM float64) []geo.XY {
		var out []geo.XY
		for x := 0.0; x <= 20; x += 2 {
			out = append(out, geo.XY{X: x})
		}
		for x := 20.0; x >= 0; x -= 2 {
			out = append(out, geo.XY{X: x, Y: apartM})
		}
		return out
	}
	for _, c := range []struct {
		name string
		at   []geo.XY
		kind Kind
		says string
		want bool
	}{
		{"a step of 0.28 m", sideways(0.28), Step, "", false},
		{"a step of 0.32 m", sideways(0.32), Step, "", true},
		{"a step of 4.9 m", sideways(4.9), Step, "", true},
		{"a step of 5.1 m", sideways(5.1), Step, "", false},
		{"a kink of 19 degrees", kinked(19), Step, "", false},
		{"a kink of 21 degrees", kinked(21), Step, "", true},
		// Turns of two strides to a side: four, five.
		{"four apexes", ups("101", 1), Zigzag, "", false},
		{"five apexes", ups("1010", 1), Zigzag, "", true},
		// Seven times 0.0361 m, the error of 0.02 m with 3 % of a depth of 1 m for the
		// mark, is 0.252 m.
		{"a sweep of 0.24 m", ups("10101010", 0.24), Zigzag, "", false},
		{"a sweep of 0.27 m", ups("10101010", 0.27), Zigzag, "", true},
		{"legs 2.4 m apart", legs(2.4), Passes, "beside itself", true},
		{"legs 2.6 m apart", legs(2.6), Passes, "beside itself", false},
	} {
		got := false
		for _, b := range Check(drawnThrough(c.at), rule()) {
			got = got || b.Kind == c.kind && strings.Contains(words.Remark(geo.Metric, b.Remark), c.says)
		}
		if got != c.want {
			t.Errorf("%s: told %v: %+v", c.name, got, Check(drawnThrough(c.at), rule()))
		}
	}
}

// Passes over one stretch must agree within four times a reading's own error, and
// within 0.15 m (common practice, no source). Where passes lie apart the readings
// scatter, and are taken for four times as bad as they say at most: 0.08 m by 0.02 m,
// with 3 % of 1 m for the mark 0.0854 m, of which four times is 0.342 m; by 0.005 m
// at half the depth 0.113 m, so that 0.15 m holds.
func TestLimitOfPasses(t *testing.T) {
	for _, c := range []struct {
		ownM, depthM, apartM float64
		want                 bool
	}{
		{0.02, 1, 0.33, false}, {0.02, 1, 0.36, true}, {0.005, 0.5, 0.145, false}, {0.005, 0.5, 0.155, true},
	} {
		back := along(21, func(float64) float64 { return c.apartM })
		l := read(line(0.5, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		for i := range back {
			l = read(l, back[len(back)-1-i])
		}
		for i := range l.Readings {
			l.Readings[i].HAccM, l.Readings[i].DepthM = c.ownM, c.depthM
		}
		for i := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[i].DepthM = c.depthM
		}
		if got := countKind(Check(l, rule()), Passes) > 0; got != c.want {
			t.Errorf("%+v: told %v: %+v", c, got, Check(l, rule()))
		}
	}
}

// Two depths that differ alike from the profile by three of their own errors are a
// kind of their own: 3·hypot(5 % of 1.2 m, 3 cm) = 0.20 m. Dropped depths that agree
// are a line's up to 9 m, beyond that a receiver's fault. A profile is held to what was
// read within 4 m of a place, or two spacings. All common practice, no source.
func TestLimitsOfKindsOfDepths(t *testing.T) {
	level21 := func() *trace.Line {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		for k := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[k].Depth95M = 0.001
		}
		return l
	}
	for deepM, want := range map[float64]string{1.18: "", 1.22: "deep"} {
		l := level21()
		l.Readings[8].DepthM, l.Readings[10].DepthM = deepM, deepM
		if got := kinds(Check(l, rule())); got != want {
			t.Errorf("two of %g m: %q, want %q", deepM, got, want)
		}
	}
	for deepM, want := range map[float64]string{8.9: "deep", 9.1: ""} {
		l := level21()
		for _, i := range []int{8, 9} {
			l.Readings[i].DepthM = deepM
			l.Readings[i].DropDepth(trace.Verbatim("depth spike: far off"))
		}
		if got := kinds(Check(l, rule())); got != want {
			t.Errorf("two dropped, %g m deep: %q, want %q", deepM, got, want)
		}
	}
}

func TestLimitOfWhatADepthIsHeldTo(t *testing.T) {
	for fromM, want := range map[float64]bool{14: false, 16: true} {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 10}, geo.XY{X: 40}), along(21, level)...)
		for k := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[k].DepthM, l.Centerline.Parts[0].Vertices[k].Depth95M = 1.3, 1
		}
		for i := range l.Readings {
			if l.Readings[i].Pos.X >= fromM {
				l.Readings[i].DepthM = 1.6
			}
		}
		got := false
		for _, b := range Check(l, rule()) {
			got = got || b.Kind == Between && b.FromM <= 10 && 10 <= b.ToM && strings.Contains(words.Remark(geo.Metric, b.Remark), "depths read near it")
		}
		if got != want {
			t.Errorf("1.30 m drawn at 10 m, 1.60 m read from %g m on: told %v: %+v", fromM, got, Check(l, rule()))
		}
	}
}

// Readings at the end of a walk belong to it up to 60 m from the rest (common
// practice, no source): the line should have gone on to them.
func TestLimitOfTheWalk(t *testing.T) {
	for farM, want := range map[float64]bool{59: true, 61: false} {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), append(along(21, level), geo.XY{X: 40 + farM})...)
		l.Readings[21].SetAside(remark.Outlier{From: remark.FromLine, OffM: 9})
		l.Readings[21].Time = l.Readings[20].Time.Add(time.Minute)
		got := false
		for _, b := range Check(l, rule()) {
			got = got || b.Kind == Uncovered && strings.Contains(words.Remark(geo.Metric, b.Remark), "at the end of the walk")
		}
		if got != want {
			t.Errorf("%g m beyond the end: told %v: %+v", farM, got, Check(l, rule()))
		}
	}
}

// A widened band falls back over a metre on both sides: half a metre beyond the
// stretch it is half as wide again.
func TestWidenedBandHasAShoulder(t *testing.T) {
	l := line(0.05, geo.XY{}, geo.XY{X: 40})
	widen(l.Centerline, Breach{FromM: 10, ToM: 20, BandM: 0.6})
	for _, s := range []float64{9.5, 20.5} {
		if got := lerpAt(l.Centerline.Parts[0].Vertices, s, func(x *trace.Vertex) float64 { return x.Horizontal95M }); math.Abs(got-0.325) > 1e-9 {
			t.Errorf("at %g m: %g, want 0.325", s, got)
		}
	}
}

// A corner that readings 2 m to either side of it could not have told from a sweep: an arc that
// is tangent to both legs there lies 2 m times tan(90°/4) inside of it.
func TestACornerHoldsASweep(t *testing.T) {
	for _, corner := range []bool{true, false} {
		l := line(0.03, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 20, Y: 20})
		l.Centerline.Parts[0].Vertices[1].Corner = corner
		for x := 2.0; x <= 18; x += 2 {
			l = read(l, geo.XY{X: x})
		}
		for y := 2.0; y <= 18; y += 2 {
			l = read(l, geo.XY{X: 20, Y: y})
		}
		bandM := 0.0
		for _, b := range Check(l, rule()) {
			if b.Kind == Between && b.FromM < 20 && b.ToM > 20 {
				bandM = math.Max(bandM, b.BandM)
			}
		}
		if want := 2 * math.Tan(math.Pi/8) * b2f(corner); math.Abs(bandM-want) > 0.05 {
			t.Errorf("a corner %v: the band must be %.2f m, want %.2f", corner, bandM, want)
		}
	}
}
