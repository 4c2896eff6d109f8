package guard

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/walkorder"
)

// every gives n places on a straight line, so far apart.
func every(n int, stepM float64) []geo.XY {
	out := make([]geo.XY, n)
	for i := range out {
		out[i].X = stepM * float64(i)
	}
	return out
}

// Places on either side of each limit, from the arithmetic in the comments; the
// limits themselves are common practice, no source.
func TestLimitsOfDepths(t *testing.T) {
	with := func(drop bool, depths ...float64) *trace.Line {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		for k := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[k].Depth95M = 0.001
		}
		for i, d := range depths {
			l.Readings[8+i].DepthM = d
			if drop {
				l.Readings[8+i].DropDepth(trace.Verbatim("depth spike: far off"))
			}
		}
		return l
	}
	for name, c := range map[string]struct {
		line *trace.Line
		want string
	}{
		// A depth's own error is 5 % and 3 cm: 0.067 m at 1.2 m, of which a run
		// of five may be three times off.
		"five 0.19 m too deep": {with(false, 1.19, 1.19, 1.19, 1.19, 1.19), ""},
		"five 0.22 m too deep": {with(false, 1.22, 1.22, 1.22, 1.22, 1.22), "deep"},
		// Neighbours that differ by a quarter are held both.
		"a step by 24 %": {with(false, 1.24), ""},
		"a step by 26 %": {with(false, 1.26), "between"},
		// Two dropped depths that agree within a quarter are no spikes.
		"two dropped, 19 % apart": {with(true, 2.50, 2.10), "deep"},
		"two dropped, 31 % apart": {with(true, 2.75, 2.10), ""},
		// One alone is told where it is a quarter shallower than the profile, or more.
		"one dropped, 24 % shallower": {with(true, 0.76), ""},
		"one dropped, 26 % shallower": {with(true, 0.74), "deep"},
	} {
		if got := kinds(Check(c.line, rule())); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// An exposed place is held by the band, 1.96 times 2 cm for measuring it and 1.96 times
// its own error: 0.03 + 0.039 + 0.039 = 0.108 m across, 0.10 + 0.039 m in depth.
// Beyond, the words name the side, seen in the direction of travel.
func TestLimitsOfExposures(t *testing.T) {
	for _, c := range []struct {
		leftM, depthM float64
		want          string
	}{
		{0.105, 1, ""}, {-0.105, 1, ""}, {0.115, 1, "to the left of where it is drawn"}, {-0.115, 1, "to the right of where it is drawn"},
		{0, 0.87, ""}, {0, 0.85, "measured 0.85 m deep"}, {0, 1.13, ""}, {0, 1.15, "measured 1.15 m deep"},
	} {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		r := trace.NewReading()
		r.Row, r.Pos, r.HAccM, r.DepthM, r.Exposed, r.Status = 30, geo.XY{X: 21, Y: c.leftM}, 0.02, c.depthM, true, trace.StatusExposed
		r.Time = l.Readings[20].Time.Add(time.Hour)
		l.Readings = append(l.Readings, r)
		got := Check(l, rule())
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || !strings.Contains(words.Remark(geo.Metric, got[0].Remark), c.want)) {
			t.Errorf("%+v: %+v", c, got)
		}
		if len(got) == 0 {
			continue
		}
		Apply(l, rule())
		for _, v := range l.Centerline.Parts[0].Vertices { // at 0 and 40 m, far from the place
			if v.Horizontal95M < got[0].BandM || v.Depth95M < got[0].DepthBandM {
				t.Errorf("%+v: the band at %g m is not widened to it", c, v.StationM)
			}
		}
	}
}

func TestLimitsOfSparseReadings(t *testing.T) {
	elbow := func(s float64) *trace.Line {
		return read(line(0.03, geo.XY{}, geo.XY{X: s}, geo.XY{X: s, Y: 2 * s}), geo.XY{}, geo.XY{X: s}, geo.XY{X: s, Y: s}, geo.XY{X: s, Y: 2 * s})
	}
	straight := func(n int, stepM float64) *trace.Line {
		return read(line(0.03, geo.XY{}, geo.XY{X: float64(n-1) * stepM}), every(n, stepM)...)
	}
	for name, c := range map[string]struct {
		line *trace.Line
		want string
	}{
		"15.5 m apart": {straight(5, 15.5), "sparse"},
		"14.5 m apart": {straight(5, 14.5), ""},
		"three, 6 m":   {straight(3, 6), "sparse"},
		"four, 6 m":    {straight(4, 6), ""},
		"three, 4.5 m": {straight(3, 4.5), ""},
		// A quarter of the spacing times the tangent of 45°: told from 1 m on.
		"a corner among readings 4.4 m apart": {elbow(4.4), "sparse"},
		// Below that the band alone holds it, from 0.1 m on.
		"a corner among readings 3.6 m apart":  {elbow(3.6), "between"},
		"a corner among readings 0.38 m apart": {elbow(0.38), ""},
	} {
		if got := kinds(Check(c.line, rule())); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Readings may scatter by four times their stated accuracy before the line is
// doubted: 0.08 m by 0.02 m, with pinpointing 0.09 m. Of those that scatter by
// 0.15 m a quarter lie beyond 1.96 times that, of those by 0.06 m no more than
// chance has it.
func TestStatedAccuracyIsTrustedUpToFourTimes(t *testing.T) {
	for scatterM, want := range map[float64]string{0.06: "", 0.15: "off"} {
		r := rand.New(rand.NewPCG(3, 9))
		l := read(line(0.03, geo.XY{}, geo.XY{X: 198}), along(100, func(float64) float64 { return scatterM * r.NormFloat64() })...)
		if got := kinds(Check(l, rule())); got != want {
			t.Errorf("scatter of %g m: %q, want %q", scatterM, got, want)
		}
	}
}

// Where the readings go on and no line is drawn, the caution zone is to hold a
// strip half a metre wider than the tolerance zone to each side.
func TestBesideWidth(t *testing.T) {
	l := read(line(0.03, geo.XY{}, geo.XY{X: 30}), along(30, level)...)
	for i := range l.Readings {
		if l.Readings[i].Pos.X > 31 {
			l.Readings[i].SetAside(trace.Verbatim("not on the line"))
		}
	}
	Apply(l, rule())
	n := 0
	for _, f := range l.Findings {
		for _, c := range f.Beside() {
			for _, h := range c.Half95M {
				if n++; h != 0.5 {
					t.Errorf("%g m", h)
				}
			}
		}
	}
	if n == 0 {
		t.Errorf("no course beside the line: %+v", l.Findings)
	}
}

// Readings are taken in the order of their times, one without a time with its neighbour in
// the file, and in the order of the file where most have none.
func TestTravelOrder(t *testing.T) {
	l := read(&trace.Line{}, every(4, 2)...)
	r := l.Readings
	r[0].Time, r[3].Time = r[3].Time, r[0].Time
	if got, _ := walkorder.Travel(r); got[0] != 3 || got[1] != 1 || got[2] != 2 || got[3] != 0 {
		t.Errorf("by time: %v", got)
	}
	r[2].Time = time.Time{}
	if got, _ := walkorder.Travel(r); got[0] != 3 || got[1] != 1 || got[2] != 2 || got[3] != 0 {
		t.Errorf("one without a time: %v", got)
	}
	r[1].Time, r[3].Time = time.Time{}, time.Time{}
	if got, _ := walkorder.Travel(r); got[0] != 0 || got[1] != 1 || got[2] != 2 || got[3] != 3 {
		t.Errorf("as in the file: %v", got)
	}
}

// Each of three depths that are used and that no profile follows is held, the second too; a
// stretch on another level is held once, by the step and the band that was.
func TestUsedDepthsAreHeldEach(t *testing.T) {
	for _, c := range []struct{ depthM, second, block float64 }{{1.55, 0.55, 0.80}, {1.39, 0, 0.64}} {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 18}, geo.XY{X: 40}), along(21, level)...)
		vs := l.Centerline.Parts[0].Vertices
		for k := range vs {
			vs[k].Depth95M = 0.25
		}
		for i := 8; i <= 10; i++ {
			l.Readings[i].DepthM = c.depthM
		}
		second := 0.0
		for _, b := range Check(l, rule()) {
			if b.Kind == Between && b.FromM < 18 && b.ToM > 18 {
				second = math.Max(second, b.DepthBandM)
			}
		}
		if math.Abs(second-c.second) > 0.01 {
			t.Errorf("the second of three depths of %.2f m over 1 m: ± %.2f m, want %.2f", c.depthM, second, c.second)
		}
		Apply(l, rule())
		for _, v := range l.Centerline.Parts[0].Vertices {
			if v.StationM == 18 && math.Abs(v.Depth95M-c.block) > 0.01 {
				t.Errorf("a block of three depths of %.2f m over 1 m: ± %.2f m, want %.2f", c.depthM, v.Depth95M, c.block)
			}
		}
	}
}
