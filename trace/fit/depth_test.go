package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// readDepths fits readings on the x axis, 2 m apart, with a depth each.
func readDepths(t *testing.T, depths []float64) Result {
	t.Helper()
	in := make([]reading, len(depths))
	r := rand.New(rand.NewPCG(7, uint64(len(depths))))
	for i, d := range depths {
		in[i] = plain(2*float64(i), 0.01*r.NormFloat64())
		in[i].TimeS, in[i].SigmaM, in[i].Fix, in[i].DepthM = float64(10*i), 0.015, 4, d
	}
	res, err := Line(context.Background(), asRead(in), Options{})
	if err != nil || len(res.Parts) != 1 {
		t.Fatal("no line", err)
	}
	return res
}

// depthBand is the depth and its half-width where x is.
func depthBand(res Result, x float64) (depthM, half float64) {
	part := res.Parts[0].Vertices
	for i := 1; i < len(part); i++ {
		if a, b := part[i-1].Pos.X, part[i].Pos.X; a <= x && x <= b {
			u := (x - a) / (b - a)
			return part[i-1].DepthM + u*(part[i].DepthM-part[i-1].DepthM), part[i-1].Depth95M + u*(part[i].Depth95M-part[i-1].Depth95M)
		}
	}
	return math.NaN(), math.NaN()
}

// The wandering is Matérn's process of smoothness 3/2: variance σ², correlation
// (1+r)e^-r at r reaches apart (Rasmussen and Williams 2006, eq. 4.17).
func TestWanderingIsMatern(t *testing.T) {
	const n, h = 400, 0.25
	f := curveFit{d: curveData{priorVariance: 0.01}, hM: h, n: n, b: newBanded(n)}
	lnDet := f.penalize(wandering{sd: 0.03, reachM: 5})
	close2(t, "ln det", f.b.factor(), lnDet, 1e-6)
	for _, gap := range []int{0, 4, 20, 60} {
		x := make([]float64, n)
		x[200] = 0.01
		f.b.solve(x)
		r := float64(gap) * h / 5
		close2(t, "covariance", x[200+gap]/sq(0.03), (1+r)*math.Exp(-r), 0.02)
	}
}

// Slow waves of 2 % about a level are followed, and the band tells how well.
func TestDepthFollowsWaves(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	in, off, places := 0, 0.0, 0
	for range 12 {
		phase := r.Float64() * 6
		truth := func(x float64) float64 { return 1.2 * (1 + 0.025*math.Sin(x/6.5+phase)) }
		depths := make([]float64, 120)
		for i := range depths {
			depths[i] = truth(2*float64(i)) * math.Exp(0.035*r.NormFloat64())
		}
		res := readDepths(t, depths)
		for x := 5.0; x < 230; x += 5 {
			d, half := depthBand(res, x)
			off += sq(d/truth(x) - 1)
			places++
			if math.Abs(d-truth(x)) <= half {
				in++
			}
		}
	}
	if rms := math.Sqrt(off / float64(places)); rms > 0.016 {
		t.Errorf("waves missed by %.2f %%", 100*rms)
	}
	if share := float64(in) / float64(places); share < 0.9 {
		t.Errorf("%.0f %% of the places are inside the band", 100*share)
	}
}

// A sharp step keeps both levels, and between the two readings that it lies
// between the band holds both.
func TestDepthStep(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	w := receiver.Wire{Points: []receiver.Point{{Y: -500, Z: -1}, {Y: 58.8, Z: -1}, {Y: 59.2, Z: -1.4}, {Y: 600, Z: -1.4}}, CurrentA: 1}
	depths := make([]float64, 60)
	for i := range depths {
		_, d := w.Across(receiver.Point{Y: 2 * float64(i)}, receiver.Point{X: 1}, receiver.UsualGapM, 1)
		depths[i] = d * math.Exp(0.02*r.NormFloat64())
	}
	res := readDepths(t, depths)
	for x, want := range map[float64]float64{40: 1, 55: 1, 63: 1.4, 80: 1.4} {
		d, half := depthBand(res, x)
		close2(t, "level", d, want, 0.04)
		if half > 0.06 {
			t.Errorf("band of ±%.3f m at %v m", half, x)
		}
	}
	if d, half := depthBand(res, 59); d-half > 1.05 || d+half < 1.35 {
		t.Errorf("band of %.2f ± %.2f m holds only one side of the step", d, half)
	}
}

// Two depths at the end that agree are a step, not two spikes.
func TestStepAtTheEndIsNoSpike(t *testing.T) {
	depths := make([]float64, 40)
	for i := range depths {
		depths[i] = 1 + 0.01*float64(i%3)
	}
	depths[38], depths[39] = 0.68, 0.69
	for i, v := range readDepths(t, depths).Verdicts {
		if v.Fate == DepthSpike {
			t.Errorf("reading %d is set aside: %s", i, v.Why)
		}
	}
	depths[38], depths[39], depths[20] = 1, 1, 0.5
	if v := readDepths(t, depths).Verdicts[20]; v.Fate != DepthSpike {
		t.Error("a single depth of half its neighbours' is used")
	}
}

// Where a line ends half a metre beyond the last reading the depths before it
// read shallow by a known course; the profile doesn't follow them, and its band holds the last,
// which may be the line's as well.
func TestDepthAtTheEndOfALine(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	w := receiver.Wire{Points: []receiver.Point{{Y: -2000, Z: -1.1}, {Y: 78.5, Z: -1.1}}, CurrentA: 1}
	depths := make([]float64, 40)
	for i := range depths {
		_, d := w.Across(receiver.Point{Y: 2 * float64(i)}, receiver.Point{X: 1}, receiver.UsualGapM, 1)
		depths[i] = d * math.Exp(0.015*r.NormFloat64())
	}
	if depths[39] > 0.95 {
		t.Fatal("the last depth is not shallow")
	}
	if d, half := depthBand(readDepths(t, depths), 77.9); math.Abs(d-1.1) > 0.1 || math.Abs(d-depths[39]) > half+0.01 || half > 0.3 {
		t.Errorf("%.2f ± %.2f m over the end of a line at 1.1 m, where %.2f m was read last", d, half, depths[39])
	}
}

// The line's own field against the law of Biot and Savart in space: a straight
// line, an elbow of 90°, and a line that comes back beside itself with half of
// its current.
func TestOwnField(t *testing.T) {
	straight := []geo.XY{{X: -40}, {X: 40}}
	elbow := []geo.XY{{X: -40}, {X: 0}, {X: 0, Y: 40}}
	doubled := []geo.XY{{X: -40}, {X: 40}, {X: 40, Y: 4}, {X: -40, Y: 4}}
	for name, path := range map[string][]geo.XY{"straight": straight, "elbow": elbow, "doubled": doubled} {
		var vs []trace.Vertex
		line := geo.NewPolyline(path)
		for s := 0.0; s <= line.Length(); s++ {
			vs = append(vs, trace.Vertex{Pos: line.At(s), StationM: s})
		}
		own := newOwnField(vs, nil)
		var w receiver.Wire
		own.amps = make([]float64, own.legs())
		for i := range own.legs() + 1 {
			p := own.vertex(i).Pos
			w.Points = append(w.Points, receiver.Point{X: p.X, Y: p.Y, Z: -1})
			if i > 0 {
				own.amps[i-1] = 1 - 0.5*own.vertex(i).StationM/line.Length()
				w.PieceA = append(w.PieceA, own.amps[i-1])
			}
		}
		for _, s := range []float64{20, 30.5, 37, 38.5} {
			p := line.At(s)
			_, shown := w.Across(receiver.Point{X: p.X, Y: p.Y}, receiver.Point{Y: 1}, receiver.UsualGapM, 0.5)
			lost, _ := own.show(s, 1)
			close2(t, name, lost, 1-shown, 0.006)
		}
	}
}

// A line that runs straight and carries one current as far as it is looked along is not alone for
// that: it may come back beside itself.
func TestOwnFieldOfALineThatComesBack(t *testing.T) {
	path := geo.NewPolyline([]geo.XY{{X: -40}, {X: 40}, {X: 40, Y: 2}, {X: -40, Y: 2}})
	var vs []trace.Vertex
	for s := 0.0; s <= path.Length(); s++ {
		vs = append(vs, trace.Vertex{Pos: path.At(s), StationM: s})
	}
	w := receiver.Wire{CurrentA: 1}
	own := newOwnField(vs, nil)
	for i := range own.legs() + 1 {
		p := own.vertex(i).Pos
		w.Points = append(w.Points, receiver.Point{X: p.X, Y: p.Y, Z: -1})
	}
	_, shown := w.Across(receiver.Point{}, receiver.Point{Y: 1}, receiver.UsualGapM, 0.5)
	if lost, _ := own.show(40, 1); math.Abs(lost-(1-shown)) > 0.006 || math.Abs(lost) < 0.05 {
		t.Errorf("%v of the depth is lost, by the law of Biot and Savart %v", lost, 1-shown)
	}
}

// Currents are told apart from what the line's own legs add to their reading.
func TestFeedFindsTheCurrent(t *testing.T) {
	var vs []trace.Vertex
	for s := 0.0; s <= 100; s += 2 {
		vs = append(vs, trace.Vertex{Pos: geo.XY{X: s}, StationM: s})
	}
	own := newOwnField(vs, nil)
	var read []currentAt
	for s := 1.0; s < 100; s += 3 {
		read = append(read, currentAt{s, 80 * math.Exp(-s/200), 1})
	}
	own.setCurrents(read)
	a, b := own.amps[own.leg(20)], own.amps[own.leg(80)]
	close2(t, "fall of the current", b/a, math.Exp(-60.0/200), 0.02)
}

// One wrong current, the first or the last, is not what flows there; a fall is followed to the
// end.
func TestWrongCurrentAtTheEnd(t *testing.T) {
	var vs []trace.Vertex
	for s := 0.0; s <= 100; s += 2 {
		vs = append(vs, trace.Vertex{Pos: geo.XY{X: s}, StationM: s})
	}
	for _, wrong := range []int{-1, 0, 33} {
		own := newOwnField(vs, nil)
		var read []currentAt
		for s := 0.0; s < 100; s += 3 {
			read = append(read, currentAt{s, 80 * math.Exp(-s/200), 1})
		}
		if wrong >= 0 {
			read[wrong].milliamps *= 3
		}
		own.setCurrents(read)
		for _, s := range []float64{1, 97} {
			close2(t, "current near an end", own.amps[own.leg(s)], 80*math.Exp(-s/200), 2)
		}
	}
}

// The peak over a line that comes back beside itself stands towards the other
// leg or away from it, as the field in space has it; the drawn line doesn't.
func TestPullOfALegBeside(t *testing.T) {
	var vs []trace.Vertex
	line := geo.NewPolyline([]geo.XY{{X: -40}, {X: 40}, {X: 40, Y: 4}, {X: -40, Y: 4}})
	for s := 0.0; s <= line.Length(); s++ {
		vs = append(vs, trace.Vertex{Pos: line.At(s), StationM: s})
	}
	own := newOwnField(vs, nil)
	w := receiver.Wire{CurrentA: 1}
	for i := range own.legs() + 1 {
		p := own.vertex(i).Pos
		w.Points = append(w.Points, receiver.Point{X: p.X, Y: p.Y, Z: -1.2})
	}
	for _, s := range []float64{20, 40, 120} {
		p, right := line.At(s), line.Direction(s)
		across := receiver.Point{X: right.Y, Y: -right.X}
		want := w.PeakM(receiver.Point{X: p.X, Y: p.Y}, across, 0.6)
		if math.Abs(want) < 0.01 {
			t.Fatalf("no bias of %v at %v m", want, s)
		}
		close2(t, "bias", own.biasM(s, 1.2), want, 0.003)
	}
}
