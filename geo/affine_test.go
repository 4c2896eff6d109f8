package geo

import (
	"errors"
	"math"
	"testing"
)

func TestAffineGoesThereAndBack(t *testing.T) {
	a := Affine{0.03, 0.04, 5, 0.04, -0.03, -7} // a turn of 53.13°, a 3-4-5 triangle, with rows counting down
	if got := a.Apply(100, 50); got.Dist(XY{10, -4.5}) > 1e-12 {
		t.Errorf("applied: %v", got)
	}
	if d := a.Det(); math.Abs(d+0.0025) > 1e-15 {
		t.Errorf("determinant %g, want -(0.05)²", d)
	}
	back := a.Inverse().Apply(10, -4.5)
	if back.Dist(XY{100, 50}) > 1e-9 {
		t.Errorf("back at %v", back)
	}
	if same := a.Inverse().After(a).Apply(3, 8); same.Dist(XY{3, 8}) > 1e-9 {
		t.Errorf("there and back: %v", same)
	}
	if (Affine{A: 1, B: 2, D: 2, E: 4}).Inverse().Finite() {
		t.Error("a picture squeezed to a line has a way back")
	}
}

// A square that is bent by a known amount leaves a known distance: of u² on 0, 1/2
// and 1 the straight line through it in least squares is u - 1/12, by which the ends
// are 1/12 off and the middle 1/6 (worked by hand).
func TestFitAffineTellsWhatIsLeft(t *testing.T) {
	got, left, err := FitAffine(1, 1, 2, func(u, v float64) (XY, error) { return XY{u * u, v}, nil })
	if err != nil || math.Abs(left-1.0/6) > 1e-12 {
		t.Fatalf("left %g, %v; want 1/6", left, err)
	}
	if q := got.Apply(0, 0.5); q.Dist(XY{-1.0 / 12, 0.5}) > 1e-12 {
		t.Errorf("the fit begins at %v", q)
	}
	bad := errors.New("no place")
	if _, _, err := FitAffine(1, 1, 2, func(float64, float64) (XY, error) { return XY{}, bad }); !errors.Is(err, bad) {
		t.Error(err)
	}
}
