package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// walkWithLeaps is a straight walk whose readings lie offM off the line; those
// that are not on it are set aside.
func walkWithLeaps(offM ...float64) *traced {
	w := &walk{stepM: 2, floorM: 0.02}
	for i := range 30 {
		o := observation{placed: placed{stationM: 2 * float64(i), fate: Used}, sigmaM: 0.02}
		if i < len(offM) && offM[i] != 0 {
			o.offsetM, o.fate = offM[i], Blunder
		}
		w.obs = append(w.obs, o)
	}
	return &traced{w: w}
}

func outlierCostOf(offM ...float64) float64 {
	cost, _ := walkWithLeaps(offM...).outliers(verdict{})
	return cost
}

// The chances of all numbers of leaps among n readings come to one.
func TestLeapsAreBetaBinomial(t *testing.T) {
	sum, n := 0.0, 20
	for k := 0; k <= n; k++ {
		choose := -math.Log(float64(n+1)) - mathext.Lbeta(float64(n-k)+1, float64(k)+1)
		sum += math.Exp(choose + mathext.Lbeta(leapsBefore+float64(k), fixesBefore+float64(n-k)) - mathext.Lbeta(leapsBefore, fixesBefore))
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("they come to %g", sum)
	}
}

func TestCostOfLeaps(t *testing.T) {
	none, one := outlierCostOf(), outlierCostOf(0, 3)
	if one-none < 5 {
		t.Errorf("the first leap costs %.1f", one-none)
	}
	if next := outlierCostOf(0, 3, 0, 0, -5) - one; next >= one-none {
		t.Errorf("a second one costs %.1f, the first %.1f", next, one-none)
	}
	if same, other := outlierCostOf(0, 3, 3.01), outlierCostOf(0, 3, -4); same >= other {
		t.Errorf("two that leap alike cost %.1f, two that differ %.1f", same, other)
	}
	if far := outlierCostOf(0, 3, 0, 0, 300) - one; math.Abs(far-farCost) > 0.2 {
		t.Errorf("a reading from elsewhere costs %.2f and changes what leaps cost", far)
	}
}

// Even steps cost nothing to speak of, one that goes aside and back does.
func TestStrides(t *testing.T) {
	t0 := walkWithLeaps()
	for i := range t0.w.obs {
		t0.w.obs[i].p.X = t0.w.obs[i].stationM
	}
	if c := t0.spacingDeviance(); c > 1e-9 {
		t.Errorf("even steps cost %g", c)
	}
	for i := 10; i < len(t0.w.obs); i++ {
		t0.w.obs[i].stationM += 8
	}
	if c := t0.spacingDeviance(); c < 5 {
		t.Errorf("a way of five steps between two readings costs %.1f", c)
	}
}
