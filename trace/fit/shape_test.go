package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// readAlong reads a path every so many metres by RTK, 1.5 cm of error either way.
func readAlong(pts []geo.XY, everyM float64, seed uint64) []reading {
	r := rand.New(rand.NewPCG(seed, 7))
	line := geo.NewPolyline(pts)
	var out []reading
	for s := 0.2; s < line.Length(); s += everyM * (0.9 + 0.2*r.Float64()) {
		p := line.At(s).Add(geo.XY{X: 0.015 * r.NormFloat64(), Y: 0.015 * r.NormFloat64()})
		out = append(out, reading{Pos: p, TimeS: 12 * float64(len(out)), SigmaM: 0.015, Fix: 4,
			HDOP: math.NaN(), DepthM: 0.9})
	}
	return out
}

func setAside(res Result) (out []int) {
	for i, v := range res.Verdicts {
		if v.Fate != Used {
			out = append(out, i)
		}
	}
	return out
}

// A stretch that nobody read hides an acute turn: the legs on both sides go on
// as far as they were read, and are not cut where they would cross.
func TestUnreadLegAfterAnAcuteTurn(t *testing.T) {
	legs := []geo.XY{{X: 0, Y: 0}, {X: 15, Y: -30}, {X: -8, Y: -42}, {X: -18, Y: -70}, {X: 2, Y: -110}}
	all := readAlong(legs, 3.3, 1)
	var in []reading
	unread := geo.NewPolyline(legs[1:3])
	for _, r := range all {
		if unread.Nearest(r.Pos).At.Dist(r.Pos) > 0.5 {
			in = append(in, r)
		}
	}
	res := fitted(t, in)
	if aside := setAside(res); len(aside) > 1 {
		t.Errorf("readings %v set aside", aside)
	}
	for i, r := range in {
		if d := math.Abs(path(res).Nearest(r.Pos).OffsetM); d > 0.3 {
			t.Errorf("the line is %.2f m off reading %d", d, i)
		}
	}
}

// A line that comes back beside itself: two readings on the short leg between
// are not enough for a run of their own, but they are no leaps.
func TestShortLegBetweenTwoElbows(t *testing.T) {
	legs := []geo.XY{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 6}, {X: 8, Y: 6}}
	for seed := uint64(1); seed <= 6; seed++ {
		res := fitted(t, readAlong(legs, 3.7, seed))
		if aside := setAside(res); len(aside) > 0 {
			t.Errorf("seed %d: readings %v set aside", seed, aside)
		}
		if d := farthestApart(path(res), geo.NewPolyline(legs), legs[1], legs[2]); d > 0.2 {
			t.Errorf("seed %d: the line is %.2f m off", seed, d)
		}
		for _, p := range []geo.XY{{X: 49, Y: 0}, {X: 50, Y: 3}, {X: 49, Y: 6}} {
			if d := math.Abs(path(res).Nearest(p).OffsetM); d > 0.6 {
				t.Errorf("seed %d: the line passes %v at %.2f m", seed, p, d)
			}
		}
	}
}

// A false fix holds for three readings: they run beside the line, and the walk
// leaps to them and back. That is no jog of the line, near an end neither.
func TestBurstBesideTheLine(t *testing.T) {
	legs := []geo.XY{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 55}}
	for _, from := range []int{3, 8, 20, 24} {
		in := readAlong(legs, 4, uint64(from))
		for i := from; i < from+3; i++ {
			in[i].Pos = in[i].Pos.Add(geo.XY{X: 1.9, Y: 1.6})
		}
		res := fitted(t, in)
		for i := from; i < from+3; i++ {
			if res.Verdicts[i].Fate == Used {
				t.Errorf("burst from %d: reading %d used", from, i)
			}
		}
		if d := farthestApart(path(res), geo.NewPolyline(legs), geo.XY{X: 60}); d > 0.2 {
			t.Errorf("burst from %d: the line is %.2f m off", from, d)
		}
	}
}

// Bends of one radius between straights, read four or five times each: they are
// drawn as arcs, without corners and without readings set aside.
func TestSparseArcs(t *testing.T) {
	const radius, turn = 14.0, 75 * math.Pi / 180
	bends := curved([][2]float64{{25, 0}, {radius * turn, 1 / radius}, {22, 0}, {radius * turn, 1 / radius}, {25, 0}}, nil)
	res := fitted(t, readAlong(bends, 4, 3))
	if aside := setAside(res); len(aside) > 0 {
		t.Errorf("readings %v set aside", aside)
	}
	if c := corners(res); len(c) > 0 {
		t.Errorf("corners at %v", c)
	}
	if d := farthestApart(path(res), geo.NewPolyline(bends)); d > 0.15 {
		t.Errorf("the line is %.2f m off", d)
	}
}

// An arc of known radius and centre, without noise: the run is that arc.
func TestArcRun(t *testing.T) {
	var part []sample
	for k := 0; k <= 6; k++ {
		sin, cos := math.Sincos(0.4 + 0.15*float64(k))
		part = append(part, &observation{placed: placed{stationM: 3 * float64(k)}, p: geo.XY{X: 30 - 20*cos, Y: 5 + 20*sin}, wt: 1e3})
	}
	r, ok := fitArc(part)
	if !ok {
		t.Fatal("no arc")
	}
	for _, p := range r.nodes {
		if off := p.Dist(geo.XY{X: 30, Y: 5}) - 20; math.Abs(off) > 2e-3 {
			t.Errorf("node %.4f m off the circle", off)
		}
	}
	if math.Abs(r.edf-3) > 0.01 {
		t.Errorf("%.3f degrees of freedom", r.edf)
	}
}

// A shape that was found twice is one rival, and no rival to itself.
func TestRivalsAreOtherShapes(t *testing.T) {
	best := &traced{score: 10}
	same, near, twin, far := &traced{score: 10}, &traced{score: 12}, &traced{score: 12}, &traced{score: 10 + 2*mostBehind}
	best.noteRivals([]*traced{far, twin, same, near, best})
	if len(best.rivals) != 1 || best.rivals[0].score != near.score {
		t.Errorf("%d rivals, want the one at 12", len(best.rivals))
	}
}

// A run that takes a parameter for every reading may hide leaps; a line does not.
func TestWindingRunsAreAskedAbout(t *testing.T) {
	part := make([]sample, 8)
	for r, want := range map[*run]bool{
		{part: part, straight: true, edf: 2}: false,
		{part: part, edf: 3}:                 false,
		{part: part, edf: 7}:                 true,
	} {
		if r.winds() != want {
			t.Errorf("%.0f parameters for %d readings: winds %t", r.edf, len(part), !want)
		}
	}
}
