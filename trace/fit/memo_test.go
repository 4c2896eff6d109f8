package fit

import (
	"context"
	"math/rand/v2"
	"reflect"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
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

// What grew before changes nothing but the time: with readings taken out and put
// back, the spans are those of a first cut. Below 600 readings every sample may be
// a break, beyond it every other one.
func TestPiecesGrowAsBefore(t *testing.T) {
	ctx, r := context.Background(), rand.New(rand.NewPCG(7, 7))
	for _, n := range []int{80, 400, 900} {
		w, s := cutWalk(t, n)
		least, near := 5.0, w.suspectReach()
		_, before, err := segment(ctx, s, least, near, nil)
		if err != nil {
			t.Fatal(err)
		}
		reused := 0
		for range 12 {
			var less []sample
			out := map[int]bool{r.IntN(len(s)): true, r.IntN(len(s)): true}
			for i, q := range s {
				if !out[i] {
					less = append(less, q)
				}
			}
			want, _, _ := segment(ctx, less, least, near, nil)
			got, grown, _ := segment(ctx, less, least, near, before)
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%d readings: spans with what grew before %v, without %v", n, got, want)
			}
			reused += shared(grown, before)
			all, _, _ := segment(ctx, s, least, near, grown)
			first, _, _ := segment(ctx, s, least, near, nil)
			if !reflect.DeepEqual(all, first) {
				t.Fatalf("%d readings: spans with readings put back %v, at first %v", n, all, first)
			}
		}
		if reused == 0 {
			t.Errorf("%d readings: nothing was used again", n)
		}
	}
}

// shared counts the growths that two cuts have in common.
func shared(a, b *growths) int {
	has := map[*growth]bool{}
	for _, from := range b.from {
		for _, g := range from {
			has[g] = g != nil
		}
	}
	n := 0
	for _, from := range a.from {
		for _, g := range from {
			if has[g] {
				n++
			}
		}
	}
	return n
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
		if got, want := asked.lost(station, depth), fresh.lost(station, depth); got != want {
			t.Fatalf("%v m shown at %v m: %v is lost, asked anew %v", depth, station, got, want)
		}
	}
}

// By another scale of the noise all samples weigh the same part of what they did, and what
// grew at one serves the next, to the last bit.
func TestPiecesGrowAsAtAnotherScale(t *testing.T) {
	ctx := context.Background()
	for _, n := range []int{80, 400, 900} {
		w, s := cutWalk(t, n)
		near := w.suspectReach()
		_, before, err := segment(ctx, s, 5, near, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, scale := range scales[1:] {
			s := w.samples(scale)
			if by := newGrowths(s, 1+n/maxBreaks, n, near, before).heavier; by != 0.25 {
				t.Errorf("%d readings: samples weigh %g of what they did at half the scale", n, by)
			}
			got, grown, _ := segment(ctx, s, 5, near, before)
			want, alone, _ := segment(ctx, s, 5, near, nil)
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%d readings: spans at scale %g by what grew before %v, without %v", n, scale, got, want)
			}
			for i, from := range alone.from {
				for skip, g := range from {
					for j := range stepsOf(g) {
						// What a piece was grown to beyond hopes may be more than is asked for.
						a, k := g.steps[j], grown.from[i][skip]
						b := k.steps[j]
						b.straightMisfit, b.bentMisfit = b.straightMisfit*k.heavier, b.bentMisfit*k.heavier
						if a != b {
							t.Fatalf("%d readings: at scale %g the piece from %d grew otherwise", n, scale, i)
						}
					}
				}
			}
			before = grown
		}
	}
}

func stepsOf(g *growth) []grown {
	if g == nil {
		return nil
	}
	return g.steps
}
