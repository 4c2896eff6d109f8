package fit

import (
	"context"
	"testing"
)

// A walk too long for shapes to compete is judged in place: what is set
// aside shapes nothing, and hardly a leap does.
func TestLongWalkIsJudgedInPlace(t *testing.T) {
	in := longWalk(maxCompeting + 1000)
	w := newWalk(in)
	if err := w.orderAndClean(context.Background()); err != nil {
		t.Fatal(err)
	}
	first, err := w.compete(context.Background())
	if err != nil || first == nil {
		t.Fatal("no shape", err)
	}
	doubted := len(first.doubted(plainlyOff))
	next, err := first.judged(context.Background())
	if err != nil || next == nil {
		t.Fatal("no second shape", err)
	}
	if doubted == 0 || next == first || next.w != w {
		t.Fatalf("%d groups doubted, fitted again %v, in place %v", doubted, next != first, next.w == w)
	}
	leaps := 0
	for i := range w.obs {
		o := &w.obs[i]
		if o.out && o.fate == Used {
			t.Fatalf("reading %d is set aside and shapes the line", o.index)
		}
		if o.index%50 == 17 && o.fate == Used {
			leaps++
		}
	}
	if leaps > len(in)/50/50 {
		t.Errorf("%d leaps shape the line", leaps)
	}
}

// Settling keeps the places and nothing else.
func TestSettle(t *testing.T) {
	in := longWalk(20)
	w := newWalk(in)
	for i := range w.obs {
		w.obs[i].stationM, w.obs[i].fate = float64(i), OffLine
	}
	w.settle()
	w.settle()
	if w.obs != nil || len(w.places) != len(in) {
		t.Fatalf("%d observations and %d places of %d readings", len(w.obs), len(w.places), len(in))
	}
	for i, p := range w.places {
		if p.stationM != float64(i) || p.fate != OffLine || int(p.index) != i {
			t.Errorf("place %d is %+v", i, p)
		}
	}
}
