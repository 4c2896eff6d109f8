package leastsquares

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"loamline.example/geo"
)

// The direction is the first right singular vector of the places about their middle, by
// gonum's singular value decomposition.
func TestStraightIsThatOfTheSingularValues(t *testing.T) {
	for _, at := range [][]geo.XY{
		{{X: 0, Y: 0}, {X: 1, Y: 0.1}, {X: 2, Y: -0.2}, {X: 3, Y: 0.3}},
		{{X: 5, Y: 9}, {X: 5.1, Y: 6}, {X: 4.8, Y: 2}, {X: 5, Y: -4}},
		{{X: 3, Y: 3}, {X: 2, Y: 2.1}, {X: 1, Y: 0.8}},
	} {
		mid, dir := Straight(at)
		about := mat.NewDense(len(at), 2, nil)
		for i, p := range at {
			about.SetRow(i, []float64{p.X - mid.X, p.Y - mid.Y})
		}
		var svd mat.SVD
		if !svd.Factorize(about, mat.SVDThin) {
			t.Fatal("no singular values")
		}
		var v mat.Dense
		svd.VTo(&v)
		if got := math.Abs(dir.X*v.At(0, 0) + dir.Y*v.At(1, 0)); math.Abs(got-1) > 1e-12 {
			t.Errorf("%v: direction %v, want %v %v", at, dir, v.At(0, 0), v.At(1, 0))
		}
		if dir.Dot(at[len(at)-1].Sub(at[0])) < 0 {
			t.Errorf("%v: %v is against the way", at, dir)
		}
	}
}
