package leastsquares

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// places are rows of a step, a constant, and a parabola in the way along, with what is
// known of them.
func places(n int, r *rand.Rand) (rows [][4]float64, y []float64) {
	for i := range n {
		t, in := 2*float64(i)/float64(n-1)-1, 0.0
		if i >= n/2 {
			in = 1
		}
		rows = append(rows, [4]float64{in, 1, t, t * t})
		y = append(y, 0.4*in+0.1-0.3*t+0.2*t*t+0.02*r.NormFloat64())
	}
	return rows, y
}

func byQR(rows [][4]float64, y []float64) (x mat.VecDense, unit, sum float64, err error) {
	a := mat.NewDense(len(rows), 4, nil)
	for i := range rows {
		for j := range rows[i] { // the first unknown last, where R has its error
			a.Set(i, 3-j, rows[i][j])
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	if err := qr.SolveVecTo(&x, false, mat.NewVecDense(len(y), y)); err != nil {
		return x, 0, 0, err
	}
	var upper mat.Dense
	qr.RTo(&upper)
	var back mat.VecDense
	back.MulVec(a, &x)
	for i := range y {
		sum += (y[i] - back.AtVec(i)) * (y[i] - back.AtVec(i))
	}
	return x, 1 / math.Abs(upper.At(3, 3)), sum, nil
}

// The fit is that of another's QR factorization.
func TestAgainstQR(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 6; n < 30; n++ {
		rows, y := places(n, r)
		got, ok := FitFour(rows, y)
		x, unit, sum, err := byQR(rows, y)
		if !ok || err != nil {
			t.Fatalf("%d rows: %v, %v", n, ok, err)
		}
		near := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Max(1, math.Abs(b)) {
				t.Errorf("%d rows, %s: %v, want %v", n, what, a, b)
			}
		}
		for k := range got.X {
			near("unknown", got.X[k], x.AtVec(3-k))
		}
		near("standard error", got.Unit, unit)
		near("sum of squares", got.SumSq, sum)
		near("scatter", got.Scatter(), math.Sqrt(sum/float64(n-4)))
		if got.Worst < math.Sqrt(sum/float64(n)) || got.Worst > math.Sqrt(sum) {
			t.Errorf("%d rows: the largest residual is %v of %v", n, got.Worst, math.Sqrt(sum))
		}
	}
}

// Columns that say the same leave the unknowns open.
func TestUnknownsThatAreNotToldApart(t *testing.T) {
	rows, y := places(10, rand.New(rand.NewPCG(1, 2)))
	for i := range rows {
		rows[i][3] = 2 * rows[i][1]
	}
	if fit, ok := FitFour(rows, y); ok {
		t.Errorf("solved: %+v", fit)
	}
}

func BenchmarkFitFour(b *testing.B) {
	rows, y := places(10, rand.New(rand.NewPCG(1, 2)))
	b.Run("here", func(b *testing.B) {
		for b.Loop() {
			if _, ok := FitFour(rows, y); !ok {
				b.Fatal("not solved")
			}
		}
	})
	b.Run("QR", func(b *testing.B) {
		for b.Loop() {
			if _, _, _, err := byQR(rows, y); err != nil {
				b.Fatal(err)
			}
		}
	})
}
