package guard

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// rule is that of RTK positions of 2 cm and a zone of 0.5 m.
func rule() Rule {
	return Rule{HalfWidthM: 0.5, OwnM: func(r *trace.Reading) float64 { return r.HAccM }}
}

// line draws a line along places, with a band and a depth of 1 m.
func line(bandM float64, path ...geo.XY) *trace.Line {
	pl := geo.NewPolyline(path)
	var p trace.Part
	for i, at := range path {
		p.Vertices = append(p.Vertices, trace.Vertex{Pos: at, StationM: pl.Station(i), DepthM: 1, Depth95M: 0.1, Horizontal95M: bandM, ElevM: trace.Unknown})
	}
	return &trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{Parts: []trace.Part{p}}, DepthRel: 0.05}
}

// read adds used readings at places.
func read(l *trace.Line, at ...geo.XY) *trace.Line {
	start := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
	for _, p := range at {
		r := trace.NewReading()
		r.Row, r.Pos, r.HAccM, r.DepthM, r.Status = int32(len(l.Readings)+2), p, 0.02, 1, trace.StatusUsed
		r.Time = start.Add(time.Duration(len(l.Readings)) * 8 * time.Second)
		l.Readings = append(l.Readings, r)
	}
	return l
}

// along gives n places every 2 m along X, moved sideways by y.
func along(n int, y func(x float64) float64) []geo.XY {
	out := make([]geo.XY, n)
	for i := range out {
		x := 2 * float64(i)
		out[i] = geo.XY{X: x, Y: y(x)}
	}
	return out
}

func level(float64) float64 { return 0 }

func kinds(bs []Breach) string {
	names := map[Kind]string{Off: "off", Deep: "deep", Exposed: "exposed", Uncovered: "uncovered", Zigzag: "zigzag", Sparse: "sparse", Step: "step", Between: "between", Passes: "passes"}
	var out []string
	for _, b := range bs {
		if n := names[b.Kind]; len(out) == 0 || out[len(out)-1] != n {
			out = append(out, n)
		}
	}
	return strings.Join(out, " ")
}

// carriedOn is a walk along a straight and an arc of 60° that is read straight on for the
// first five places of the arc, and on the arc again behind them.
func carriedOn() []geo.XY {
	var out []geo.XY
	for x := 0.0; x <= 20; x += 2 {
		out = append(out, geo.XY{X: x})
	}
	const radiusM = 14.0
	for s := 2.0; s <= 24; s += 2 {
		p := geo.XY{X: 20 + s}
		if a := math.Min(s/radiusM, math.Pi/3); s > 10 {
			p = geo.XY{X: 20 + radiusM*math.Sin(a), Y: radiusM * (1 - math.Cos(a))}
			p = p.Add(geo.XY{X: math.Cos(a), Y: math.Sin(a)}.Scale(s - a*radiusM))
		}
		out = append(out, p)
	}
	return out
}

func TestCheck(t *testing.T) {
	straight := []geo.XY{{X: 0}, {X: 40}}
	aside := func(l *trace.Line, from, to int) *trace.Line {
		for i := from; i < to; i++ {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 9})
		}
		return l
	}
	for name, c := range map[string]struct {
		line *trace.Line
		want string
	}{
		"readings on the line":          {read(line(0.03, straight...), along(21, level)...), ""},
		"one reading 30 cm off":         {read(line(0.03, straight...), along(21, func(x float64) float64 { return 0.3 * b2f(x == 20) })...), "off"},
		"a run 16 cm off":               {read(line(0.03, straight...), along(21, func(x float64) float64 { return 0.16 * b2f(x >= 10 && x < 20) })...), "off"},
		"the same in a band of 20 cm":   {read(line(0.2, straight...), along(21, func(x float64) float64 { return 0.16 * b2f(x >= 10 && x < 20) })...), ""},
		"a block set aside on the line": {aside(read(line(0.03, straight...), along(21, level)...), 5, 8), "uncovered"},
		"two set aside on the line":     {aside(read(line(0.03, straight...), along(50, level)...), 5, 7), "off uncovered"}, // the line ends at 40 m of 98
		"two of 21 set aside on it":     {aside(read(line(0.03, straight...), along(21, level)...), 5, 7), ""},
		"two of 21 set aside off it":    {aside(read(line(0.03, straight...), along(21, func(x float64) float64 { return 0.4 * b2f(x == 10 || x == 12) })...), 5, 7), "uncovered"},
		"walk past the end":             {read(line(0.03, geo.XY{}, geo.XY{X: 30}), along(21, level)...), "off uncovered"},
		"a sweep":                       {read(line(0.03, along(21, sweep)...), along(21, sweep)...), "zigzag"},
		"a step to a parallel course":   {read(line(0.03, along(21, lateral)...), along(21, lateral)...), "step"},
		"a step over 5 m":               {read(line(0.03, along(31, veering(0, 1.5, 6))...), along(31, veering(0, 1.5, 6))...), "step"},
		"a step in a bend":              {read(line(0.03, along(31, veering(1.0/40, 1.5, 1))...), along(31, veering(1.0/40, 1.5, 1))...), "step"},
		"carried straight past a bend":  {read(line(0.03, carriedOn()...), carriedOn()...), "off sparse"},
		"a bend without a step":         {read(line(0.03, along(31, veering(1.0/40, 0, 1))...), along(31, veering(1.0/40, 0, 1))...), ""},
		"a kink of 12 degrees":          {read(line(0.03, along(31, kink)...), along(31, kink)...), ""},
		"three readings of a bend":      {read(line(0.03, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 20, Y: 20}), geo.XY{}, geo.XY{X: 20}, geo.XY{X: 20, Y: 20}), "sparse"},
		"an elbow read well":            {read(line(0.03, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 20, Y: 20}), elbow()...), ""},
		"no centerline":                 {&trace.Line{}, ""},
	} {
		if got := kinds(Check(c.line, rule())); got != c.want {
			t.Errorf("%s: %q, want %q: %+v", name, got, c.want, Check(c.line, rule()))
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func sweep(x float64) float64 { return 1.0 * float64(int(x/2)%2) }

func lateral(x float64) float64 { return 1.5 * b2f(x >= 20) }

// veering goes along a bend of a given curvature and steps aside in it over some
// metres.
func veering(curvature, stepM, overM float64) func(x float64) float64 {
	return func(x float64) float64 {
		return curvature*(x-30)*(x-30)/2 + stepM/(1+math.Exp(-6*(x-31)/overM))
	}
}

func kink(x float64) float64 { return math.Tan(12*math.Pi/180) * math.Max(0, x-31) }

func elbow() []geo.XY {
	out := along(11, level)
	for y := 2.0; y <= 20; y += 2 {
		out = append(out, geo.XY{X: 20, Y: y})
	}
	return out
}

// with gives every reading 60 of something, and the one whose depth was dropped another.
func with(l *trace.Line, of func(*trace.Reading) *float64, dropped float64) *trace.Line {
	for i := range l.Readings {
		r := &l.Readings[i]
		*of(r) = 60
		if r.DepthDropped {
			*of(r) = dropped
		}
	}
	return l
}

func signal(r *trace.Reading) *float64 { return &r.Signal }

func current(r *trace.Reading) *float64 { return &r.CurrentMA }

func TestDepths(t *testing.T) {
	deep := func(depths ...float64) *trace.Line {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		for i, d := range depths {
			l.Readings[8+i].DepthM = d
		}
		return l
	}
	dropped := func(l *trace.Line, n int) *trace.Line {
		for i := range n {
			l.Readings[8+i].DropDepth(trace.Verbatim("depth spike: far off"))
		}
		return l
	}
	for name, c := range map[string]struct {
		line *trace.Line
		want string
	}{
		"level":                           {deep(), ""},
		"a hump that was used":            {deep(0.6, 0.55, 0.5, 0.55, 0.6), "deep between"},
		"one deep spike dropped":          {dropped(deep(2.4), 1), ""},
		"one shallow depth dropped":       {dropped(deep(0.4), 1), "deep"},
		"one hardly shallower dropped":    {dropped(deep(0.8), 1), ""},
		"its signal did not rise":         {with(dropped(deep(0.4), 1), signal, 60), ""},
		"its signal rose":                 {with(dropped(deep(0.4), 1), signal, 150), "deep"},
		"its current fell":                {with(dropped(deep(0.4), 1), current, 24), ""},
		"two shallow depths dropped":      {dropped(deep(0.42, 0.40), 2), "deep"},
		"two dropped that do not agree":   {dropped(deep(1.9, 2.6), 2), ""},
		"a profile that no reading shows": {read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...), ""},
	} {
		if got := kinds(Check(c.line, rule())); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	l := deep()
	for i := range l.Centerline.Parts[0].Vertices {
		l.Centerline.Parts[0].Vertices[i].DepthM, l.Centerline.Parts[0].Vertices[i].Depth95M = 1.82, 0.9
	}
	if got := kinds(Check(l, rule())); got != "between" {
		t.Errorf("a profile outside what was read: %q", got)
	}
}

func TestExposed(t *testing.T) {
	for _, c := range []struct {
		offM, depthM float64
		want         string
	}{{0.02, 1, ""}, {0.3, 1, "exposed"}, {0.02, 0.6, "exposed"}, {0.3, 0.6, "exposed"}} {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		r := trace.NewReading()
		r.Row, r.Pos, r.HAccM, r.DepthM, r.Exposed, r.Status = 30, geo.XY{X: 21, Y: c.offM}, 0.02, c.depthM, true, trace.StatusExposed
		r.Time = l.Readings[20].Time.Add(time.Hour)
		l.Readings = append(l.Readings, r)
		if got := kinds(Check(l, rule())); got != c.want {
			t.Errorf("%g m beside, %g m deep: %q, want %q", c.offM, c.depthM, got, c.want)
		}
	}
}

// An exposed place far past an end shows where the line was not traced, and nothing of
// how far what was traced lies off.
func TestExposedPastAnEnd(t *testing.T) {
	l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
	r := trace.NewReading()
	r.Row, r.Pos, r.HAccM, r.DepthM, r.Exposed, r.Status = 30, geo.XY{X: 90, Y: 60}, 0.02, 1, true, trace.StatusExposed
	l.Readings = append(l.Readings, r)
	if got := kinds(Check(l, rule())); got != "uncovered" {
		t.Errorf("%q", got)
	}
	Apply(l, rule())
	for _, v := range l.Centerline.Parts[0].Vertices {
		if v.Horizontal95M > 0.1 {
			t.Fatalf("± %.2f m at %.1f m", v.Horizontal95M, v.StationM)
		}
	}
	if _, is := l.Findings[0].(finding.Gap); !is {
		t.Errorf("%T is told", l.Findings[0])
	}
}

// Two places of one line that were seen lie along it, also about a square bend; places
// across the course, as on two legs of one line, are told.
func TestExposedAcross(t *testing.T) {
	for _, c := range []struct {
		name string
		path []geo.XY
		seen [2]geo.XY
		want string
	}{
		{"along", []geo.XY{{}, {X: 40}}, [2]geo.XY{{X: 18}, {X: 21, Y: 0.05}}, ""},
		{"one place twice", []geo.XY{{}, {X: 40}}, [2]geo.XY{{X: 20}, {X: 20.1, Y: 0.2}}, ""},
		{"about a square bend", []geo.XY{{}, {X: 20}, {X: 20, Y: 20}}, [2]geo.XY{{X: 19}, {X: 20, Y: 1.5}}, ""},
		{"across", []geo.XY{{}, {X: 40}}, [2]geo.XY{{X: 20}, {X: 20.3, Y: 1.2}}, "passes"},
		{"far apart about a bend", []geo.XY{{}, {X: 20}, {X: 20, Y: 30}, {X: 40, Y: 30}}, [2]geo.XY{{X: 10}, {X: 30, Y: 30}}, ""},
		{"across at an end", []geo.XY{{}, {X: 40}}, [2]geo.XY{{X: 39.5}, {X: 39.7, Y: 1.2}}, "passes"},
	} {
		l := line(2, c.path...)
		for k, p := range c.seen {
			r := trace.NewReading()
			r.Row, r.Pos, r.HAccM, r.DepthM, r.Exposed, r.Status = int32(30+k), p, 0.02, 1, true, trace.StatusExposed
			l.Readings = append(l.Readings, r)
		}
		if got := kinds(Check(l, rule(), Passes)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What Apply leaves contradicts nothing that a wider band can mend, whatever was
// read, and everything that it found is told.
func TestHoldHolds(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 7))
		l := read(line(0.02+0.2*r.Float64(), geo.XY{}, geo.XY{X: 60}), along(31, func(x float64) float64 {
			return 0.02*r.NormFloat64() + 2*b2f(r.Float64() < 0.1)*r.NormFloat64()
		})...)
		for i := range l.Readings {
			l.Readings[i].DepthM = 1 + 0.3*r.NormFloat64()*b2f(r.Float64() < 0.5)
		}
		found := Check(l, rule())
		if known := Apply(l, rule()); known != (len(found) > 0) {
			t.Fatalf("seed %d: told %v of %d breaches", seed, known, len(found))
		}
		if left := Check(l, rule(), Off, Deep, Exposed); len(left) > 0 {
			t.Errorf("seed %d: %s is left: %+v", seed, kinds(left), left)
		}
		if n := len(found) - countKind(found, Between); n > 0 && len(l.Findings) == 0 {
			t.Errorf("seed %d: %d breaches, nothing told", seed, n)
		}
	}
}

func countKind(bs []Breach, k Kind) (n int) {
	for _, b := range bs {
		n += int(b2f(b.Kind == k))
	}
	return n
}

// Plain readings with their honest error are not cried over: at most one line in
// fifty.
func TestPlainLinesAreLeftAlone(t *testing.T) {
	cried := 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 8))
		l := read(line(0.03, geo.XY{}, geo.XY{X: 98}), along(50, func(float64) float64 { return 0.03 * r.NormFloat64() })...)
		for i := range l.Readings {
			l.Readings[i].DepthM = 1 + 0.05*r.NormFloat64()
		}
		if Apply(l, rule()) && len(l.Findings) > 0 {
			cried++
		}
	}
	if cried > 20 {
		t.Errorf("%d of 1000 plain lines get an item", cried)
	}
}

// A widened band is that wide on its stretch and no wider than it was beyond its
// shoulders.
func TestWidenStaysOnItsStretch(t *testing.T) {
	l := line(0.05, geo.XY{}, geo.XY{X: 40})
	widen(l.Centerline, Breach{FromM: 10, ToM: 20, BandM: 0.6})
	for s := 0.0; s <= 40; s += 0.5 {
		got := lerpAt(l.Centerline.Parts[0].Vertices, s, func(x *trace.Vertex) float64 { return x.Horizontal95M })
		if s >= 10 && s <= 20 && math.Abs(got-0.6) > 1e-9 || (s <= 9 || s >= 21) && math.Abs(got-0.05) > 1e-9 {
			t.Errorf("at %g m: %g", s, got)
		}
	}
}

// A hole that was measured after the walk hides no end without a line.
func TestAnEndBehindAHole(t *testing.T) {
	walk := along(21, level)
	l := read(line(0.05, walk[:19]...), walk[:19]...)
	read(l, geo.XY{X: 37.5, Y: 2}, geo.XY{X: 38, Y: 4}, geo.XY{X: 20})
	for _, i := range []int{19, 20} {
		l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 2})
	}
	l.Readings[21].Exposed, l.Readings[21].Status = true, trace.StatusExposed
	Apply(l, rule())
	for _, f := range l.Findings {
		if gap, is := f.(finding.Gap); is && gap.Path[len(gap.Path)-1] == l.Readings[20].Pos && !slices.ContainsFunc(gap.Courses, func(c trace.CourseStrip) bool { return slices.Contains(c.Path, l.Readings[21].Pos) }) {
			return
		}
	}
	t.Errorf("no gap to the end of the walk: %+v", l.Findings)
}

func ExampleCheck() {
	l := read(line(0.03, geo.XY{}, geo.XY{X: 40}), along(21, func(x float64) float64 { return 0.3 * b2f(x == 20) })...)
	for _, b := range Check(l, rule()) {
		fmt.Printf("%.0f to %.0f m: %s\n", b.FromM, b.ToM, words.Remark(geo.Metric, b.Remark))
	}
	// Output:
	// 19 to 21 m: a reading that was used lies 30.0 cm from the line drawn, more than the line's band and its own accuracy explain; the band is widened to hold that.
}

// A corner is no step, however sharp it is and wherever it falls between readings.
func TestCornersAreNoSteps(t *testing.T) {
	for turn := 8.0; turn <= 40; turn += 2 {
		for from := 0.0; from < 2; from += 0.25 {
			rng := rand.New(rand.NewPCG(uint64(turn), uint64(100*from)))
			tan := math.Tan(turn * math.Pi / 180)
			ps := along(31, func(x float64) float64 { return 0.015*rng.NormFloat64() + tan*math.Max(0, x-28-from) })
			corner := geo.XY{X: 28 + from}
			l := read(line(0.03, ps[0], corner, ps[len(ps)-1]), ps...)
			if got := kinds(Check(l, rule())); strings.Contains(got, "step") {
				t.Errorf("%.0f degrees, %.2f m behind a reading: %s", turn, from, got)
			}
		}
	}
}

// Behind a gap the same street holds other lines: a course that goes on parallel
// beside itself is told, with both in the band; one that goes straight on is not.
func TestStepOverAGap(t *testing.T) {
	for lateral, want := range map[float64]string{0: "", 0.2: "", 0.5: "step", 1.5: "step", 2.8: "step", 6: ""} {
		a, b := along(10, level), along(10, level)
		for i := range b {
			b[i] = geo.XY{X: b[i].X + 32, Y: lateral}
		}
		l := line(0.03, a[0], a[9])
		q := line(0.03, b[0], b[9]).Centerline.Parts[0]
		for i := range q.Vertices {
			q.Vertices[i].StationM += 32
		}
		l.Centerline.Parts = append(l.Centerline.Parts, q)
		if got := kinds(Check(read(l, append(a, b...)...), rule())); got != want {
			t.Errorf("%.1f m to the side behind 14 m: %q, want %q", lateral, got, want)
		}
	}
}

// TestExcursions: a course beside a winding one, out and back, is a step; the winding
// line alone is none, nor is one that goes aside as slowly as it winds. A reading of it
// that was set aside hides nothing.
func TestExcursions(t *testing.T) {
	wave := func(x float64) float64 { return 3 * math.Sin(2*math.Pi*x/32) }
	for name, c := range map[string]struct {
		y     func(x float64) float64
		aside int // a reading set aside for its place
		want  bool
	}{
		"out and back":                    {func(x float64) float64 { return wave(x) + 1.5*b2f(x >= 39 && x < 49) }, -1, true},
		"out and back, one set aside":     {func(x float64) float64 { return wave(x) + 1.5*b2f(x >= 39 && x < 49) }, 20, true},
		"out and back by less than 0.6 m": {func(x float64) float64 { return wave(x) + 0.4*b2f(x >= 39 && x < 49) }, -1, false},
		"winding":                         {wave, -1, false},
		"winding faster in between": {func(x float64) float64 {
			return wave(x) + 0.7*math.Max(0, math.Cos(math.Pi*(x-44)/12))*b2f(math.Abs(x-44) < 6)
		}, -1, false},
	} {
		places := along(48, c.y)
		l := read(line(0.1, places...), places...)
		if c.aside >= 0 {
			l.Readings[c.aside].SetAside(remark.Outlier{From: remark.FromLine, OffM: 1.5})
		}
		if got := newView(l, rule()).excursions(nil); len(got) > 0 != c.want {
			t.Errorf("%s: %v, want one: %v", name, got, c.want)
		}
	}
}

// Where readings stand close to each other, the direction of a few of them is that of
// their scatter: carried on over metres it makes no step of a straight line. A step is
// seen as before.
func TestCloseReadingsAreNoStep(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 7))
		for _, stepM := range []float64{0, 1.2} {
			at := make([]geo.XY, 200)
			for i := range at {
				x := 0.5 * float64(i)
				at[i] = geo.XY{X: x + 0.1*rng.NormFloat64(), Y: 0.045*rng.NormFloat64() + stepM*math.Min(1, math.Max(0, (x-50)/4))}
			}
			l := read(line(0.05, geo.XY{}, geo.XY{X: 100}), at...)
			if stepM > 0 {
				l = read(line(0.05, geo.XY{}, geo.XY{X: 50}, geo.XY{X: 54, Y: stepM}, geo.XY{X: 100, Y: stepM}), at...)
			}
			steps := 0
			for _, b := range Check(l, rule()) {
				if b.Kind == Step {
					steps++
				}
			}
			if (steps > 0) != (stepM > 0) {
				t.Errorf("seed %d, a step of %.1f m: %d steps", seed, stepM, steps)
			}
		}
	}
}

// A step that comes back by another width leads not back: what lies behind it is told.
func TestStepThatComesBackByAnotherWidth(t *testing.T) {
	for backM, wantOne := range map[float64]bool{-1.9: true, -1.6: true, -0.8: false, -3.5: false} {
		var at, drawn []geo.XY
		for x := 0.0; x <= 120; x += 2 {
			y := 0.0
			if x > 40 {
				y += 1.9
			}
			if x > 80 {
				y += backM
			}
			at = append(at, geo.XY{X: x, Y: y})
		}
		drawn = at
		steps := 0
		for _, b := range Check(read(line(0.03, drawn...), at...), rule()) {
			if b.Kind == Step {
				steps++
			}
		}
		if (steps == 1) != wantOne || steps == 0 {
			t.Errorf("over 1.9 m and back %.1f m: told as %d", backM, steps)
		}
	}
}

// TestLeaps: six used places that a loose walk leapt to and back from are told, though they lie
// aside by less than what is stated lets an excursion be told from; a walk that does not leap has
// none, and what is told there already is not told again.
func TestLeaps(t *testing.T) {
	for _, leapt := range []bool{true, false} {
		var at []geo.XY
		for i := range 40 {
			p := geo.XY{X: 1.2 * float64(i), Y: 0.3 * float64(i%2)}
			if leapt && i >= 18 && i < 24 {
				p.Y += 7
			}
			at = append(at, p)
		}
		l := read(line(0.05, at...), at...)
		for i := range l.Readings {
			l.Readings[i].HAccM = 1.3
		}
		is := func(b Breach) bool { _, is := b.Remark.(remark.Excursion); return is }
		found := slices.DeleteFunc(Check(l, rule()), func(b Breach) bool { return !is(b) })
		if !leapt {
			if len(found) > 0 {
				t.Errorf("none leapt: %+v", found)
			}
			continue
		}
		if len(found) != 1 || found[0].Kind != Step || math.Abs(found[0].SeparationM-7) > 0.5 || found[0].BandM < 7 {
			t.Fatalf("%+v", found)
		}
		v := newView(l, rule())
		if again := v.leaps([]Breach{{Kind: Off, FromM: found[0].FromM, ToM: found[0].ToM}}); len(again) > 0 {
			t.Errorf("told again: %+v", again)
		}
		// The way back begins at the last of the places that has one on the line.
		v.feet[23].part, v.feet[23].stationM = -1, 0
		for _, b := range v.leaps(nil) {
			if back := b.Remark.(remark.Excursion).BackAtM; back != v.feet[22].stationM {
				t.Errorf("back at %g m, want %g m", back, v.feet[22].stationM)
			}
		}
		for i := 18; i < 24; i++ {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromWalk})
		}
		if v := newView(l, rule()); len(v.leaps(nil)) > 0 {
			t.Error("places that are set aside are told as leapt to")
		}
	}
}
