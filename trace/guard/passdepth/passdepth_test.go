package passdepth

import (
	"math"
	"testing"

	"loamline.example/trace/tracetest/spent"
)

func TestCompare(t *testing.T) {
	on := []Reading{
		{0, 1, 0}, {0.2, 1.3, 1}, // both
		{2, 1, 0},                                                           // one
		{4, 1, 0}, {4.1, 9, 0}, {4.2, 1.1, 0}, {4.3, 1.3, 1}, {4.3, 1.3, 1}, // both, one of them thrice
		{6, 1.3, 1}, {6.1, 1, 0}, {6.2, 1.69, 2}, // three
	}
	want := []Pair{
		{0, 1, []float64{math.Log(1.3), math.Log(1.3 / 1.1), math.Log(1.3 / 1.1), math.Log(1.3)}},
		{0, 2, []float64{math.Log(1.69)}},
		{1, 2, []float64{math.Log(1.3)}},
	}
	got := Compare(on, 0.5)
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for k, w := range want {
		g := got[k]
		if g.Earlier != w.Earlier || g.Later != w.Later || len(g.Ln) != len(w.Ln) {
			t.Fatalf("%v, want %v", g, w)
		}
		for i := range w.Ln {
			if math.Abs(g.Ln[i]-w.Ln[i]) > 1e-12 {
				t.Errorf("%v, want %v", g, w)
			}
		}
	}
}

// What two passes need that both stand at one place grows as their readings do.
func TestStandingAtOnePlace(t *testing.T) {
	needs := func(each int) int64 {
		on := make([]Reading, 2*each)
		for k := range on {
			on[k] = Reading{1, 1 + float64(k%7)/100, k % 2}
		}
		return int64(spent.PeakHeap(func() { Compare(on, 0.5) }))
	}
	if few, many := needs(1000), needs(8000); many > 20*few+1<<20 {
		t.Errorf("2 times 1000 readings at one place need %d bytes, 2 times 8000 %d", few, many)
	}
}

// Nor does it grow with the square of how often a place is walked.
func TestWalkedOften(t *testing.T) {
	on := make([]Reading, 3000)
	for k := range on {
		on[k] = Reading{1, 1, k}
	}
	if got := len(Compare(on, 0.5)); got > nextPasses*len(on) {
		t.Errorf("%d pairs of %d passes", got, len(on))
	}
}
