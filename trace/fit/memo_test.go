package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// cutWalk is a walk with stations, and its samples.
func cutWalk(t *testing.T, n int) (*walk, []sample) {
	t.Helper()
	w := newWalk(longWalk(n))
	if err := w.orderAndClean(context.Background()); err != nil {
		t.Fatal(err)
	}
	return w, w.samples(1)
}

// A bend that is remembered is the bend that would be fitted anew, and no other
// weight, station or guide brings it back.
func TestBendsAreRemembered(t *testing.T) {
	_, s := cutWalk(t, 60)
	var guide []geo.XY
	for _, q := range s {
		guide = append(guide, q.p)
	}
	var m bendFits
	first, ok := m.smoothThrough(m.of(s, guide, 0.5), s, guide)
	fresh, also := fitSmooth(s, guide, 0.5)
	if ok != (also && fresh.sane()) {
		t.Fatalf("remembered %v, fitted %v", ok, also)
	}
	again, _ := m.smoothThrough(m.of(s, guide, 0.5), s, guide)
	for _, x := range []run{first, again} {
		if !reflect.DeepEqual(x.nodes, fresh.nodes) || x.rss != fresh.rss || x.edf != fresh.edf || x.occam != fresh.occam {
			t.Error("the run that is remembered is another one")
		}
	}
	known := m.of(s, guide, 0.5)
	if m.of(s[1:], guide[1:], 0.5) == known || m.of(s, guide, 0.6) == known {
		t.Error("other readings or nodes bring the same fit back")
	}
	s[3].wt *= 1 + 1e-15
	if m.of(s, guide, 0.5) == known {
		t.Error("another weight brings the same fit back")
	}
}

// Legs are laid out anew wherever the place, or what of the line is in reach of it,
// is another one: fields asked for in any order are those of a line never asked.
func TestLegsAreLaidOutForEachPlace(t *testing.T) {
	var vs []trace.Vertex
	line := geo.NewPolyline([]geo.XY{{X: -40}, {X: 40}, {X: 40, Y: 4}, {X: -40, Y: 4}})
	for s := 0.0; s <= line.Length(); s += 2 {
		vs = append(vs, trace.Vertex{Pos: line.At(s), StationM: s})
	}
	asked, r := newOwnField(vs, nil), rand.New(rand.NewPCG(5, 5))
	for range 300 {
		station := 20 * float64(r.IntN(8)) // each of them again and again
		depth := 0.3 + 0.4*float64(r.IntN(5))
		asked.amps = make([]float64, asked.legs())
		for i := range asked.amps {
			asked.amps[i] = 1 + r.Float64()
		}
		fresh := newOwnField(vs, nil)
		fresh.amps = asked.amps
		lost, current := asked.show(station, depth)
		wantLost, want := fresh.show(station, depth)
		if lost != wantLost || current != want {
			t.Fatalf("%v m deep at %v m: %v is lost and %v flows, asked anew %v and %v", depth, station, lost, current, wantLost, want)
		}
		guess := 0.1 * r.Float64()
		got, _ := asked.lost(station, depth, guess)
		if want, _ := fresh.lost(station, depth, guess); got != want {
			t.Fatalf("%v m shown at %v m: %v is lost, asked anew %v", depth, station, got, want)
		}
	}
}

// Bends and currents that are not reckoned with take no hundredth of a depth.
func TestWhatIsNotReckonedWithIsLittle(t *testing.T) {
	var vs []trace.Vertex
	turn := 0.99 * leastFeltRad
	line := geo.NewPolyline([]geo.XY{{X: -60}, {}, {X: 60 * math.Cos(turn), Y: 60 * math.Sin(turn)}})
	for s := 0.0; s <= line.Length(); s += 2 {
		vs = append(vs, trace.Vertex{Pos: line.At(s), StationM: s})
	}
	own := newOwnField(vs, nil)
	own.amps = make([]float64, own.legs())
	for i := range own.amps {
		own.amps[i] = 1
		if own.vertex(i).StationM >= 62 {
			own.amps[i] += 0.99 * leastFeltShare
		}
	}
	for _, depth := range []float64{0.4, 1, 2} {
		for station := 52.0; station < 72; station += 0.5 {
			if lost, current := own.show(station, depth); lost != 0 || current != 1 {
				t.Fatalf("%v m deep at %v m: %v is lost and %v shown", depth, station, lost, current)
			}
			low, high := own.fields(own.lookFrom(station), depth)
			shownM := receiver.TwoAntennaDepthM(low, high, receiver.UsualGapM)
			if off := shownM/depth - 1; math.Abs(off) > 0.01 {
				t.Errorf("%v m deep at %v m: %v of it is shown too much", depth, station, off)
			}
		}
	}
}
