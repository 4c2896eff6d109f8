package traverse

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// walk is a walk over places, one reading each, in their order.
func walk(places ...geo.XY) []trace.Reading {
	out := make([]trace.Reading, len(places))
	for i, p := range places {
		out[i] = trace.Reading{Pos: p, Status: trace.StatusUsed, DepthM: 1.2, StationM: trace.Unknown, OffsetM: trace.Unknown}
	}
	return out
}

// along gives a place every stepM of a path.
func along(stepM float64, path ...geo.XY) []geo.XY {
	pl := geo.NewPolyline(path)
	var out []geo.XY
	for s := 0.0; s <= pl.Length()+1e-9; s += stepM {
		out = append(out, pl.At(s))
	}
	return out
}

func all(*trace.Reading) bool { return true }

func ownM(m float64) func(*trace.Reading) float64 {
	return func(*trace.Reading) float64 { return m }
}

func join(rs []trace.Reading) Result {
	return Join(rs, all, Errors{OwnM: ownM(0.02), PinpointM: func(float64) float64 { return 0 }, DepthRel: 0.05, DepthScaleRel: 0.065})
}

// A ring has no smooth line of its own; joined, it is as long as its chords.
func TestJoinsARing(t *testing.T) {
	const radiusM, n = 8.0, 40
	var ring []geo.XY
	for k := range n {
		a := 2 * math.Pi * float64(k) / n
		ring = append(ring, geo.XY{X: radiusM * math.Cos(a), Y: radiusM * math.Sin(a)})
	}
	res := join(walk(ring...))
	if res.Line == nil || len(res.Line.Parts) != 1 || len(res.Leaps) > 0 {
		t.Fatalf("%+v", res)
	}
	chords := (n - 1) * 2 * radiusM * math.Sin(math.Pi/n)
	if got := res.Line.Parts[0].ToM(); math.Abs(got-chords) > 1e-9 {
		t.Errorf("%.6f m of %.6f", got, chords)
	}
	sagittaM := radiusM * (1 - math.Cos(math.Pi/n))
	for _, v := range res.Line.Parts[0].Vertices[1 : n-1] {
		if v.Horizontal95M < sagittaM {
			t.Fatalf("a band of %.3f m does not hold the arc, %.3f m off the chord", v.Horizontal95M, sagittaM)
		}
		if math.Abs(v.DepthM-1.2) > 1e-12 || math.Abs(v.Depth95M-1.96*math.Hypot(0.05, 0.065)*1.2) > 1e-12 {
			t.Fatalf("depth %v ± %v", v.DepthM, v.Depth95M)
		}
	}
}

func TestStopsAreOnePlace(t *testing.T) {
	places := along(2, geo.XY{}, geo.XY{X: 20})
	stood := places[5]
	for k := range 30 {
		places = slices.Insert(places, 5, stood.Add(geo.XY{X: 0.05 * math.Sin(float64(k)), Y: 0.05 * math.Cos(float64(k))}))
	}
	res := join(walk(places...))
	if n := len(res.Line.Parts[0].Vertices); n != 11 {
		t.Errorf("%d places of 11", n)
	}
}

func TestLeavesOutASingleLeap(t *testing.T) {
	places := along(2, geo.XY{}, geo.XY{X: 20})
	places[4].Y = 12
	res := join(walk(places...))
	if !slices.Equal(res.Leaps, []int{4}) || trace.Known(res.StationM[4]) {
		t.Errorf("leaps %v at %v", res.Leaps, res.StationM)
	}
}

func TestBreaksWhereTheWalkGoesOnAway(t *testing.T) {
	places := append(along(2, geo.XY{}, geo.XY{X: 20}), along(2, geo.XY{X: 60}, geo.XY{X: 80})...)
	res := join(walk(places...))
	if len(res.Line.Parts) != 2 {
		t.Fatalf("%d parts", len(res.Line.Parts))
	}
	if from, to := res.Line.Parts[0].ToM(), res.Line.Parts[1].FromM(); from != 20 || to != 60 {
		t.Errorf("no reading from %v to %v m", from, to)
	}
}

func TestRefusesWhatIsNoWalk(t *testing.T) {
	places := along(2, geo.XY{}, geo.XY{X: 60})
	var shuffled []geo.XY
	for k := range places {
		shuffled = append(shuffled, places[k*13%len(places)])
	}
	if res := join(walk(shuffled...)); res.Line != nil {
		t.Error("joined in an order that no walk has")
	}
}
