package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// everyNth keeps one of n depths, noted to 2 %.
func everyNth(truth func(x float64) float64, readings, n int) []float64 {
	r := rand.New(rand.NewPCG(9, uint64(n)))
	out := make([]float64, readings)
	for i := range out {
		if out[i] = math.NaN(); i%n == 0 {
			out[i] = truth(2*float64(i)) * math.Exp(0.02*r.NormFloat64())
		}
	}
	return out
}

// Where few depths are noted the line may go up and down between them: the band there is
// wider than beside them, and holds nearly all of a trench that varies by 0.15 m over 15 to
// 40 m, before the receiver's scale is added. Where all are noted nothing is added.
func TestDepthsBetweenFarDepths(t *testing.T) {
	in, places := 0, 0
	for _, n := range []int{6, 7, 10, 12} {
		for wave := 16.0; wave <= 40; wave += 3 {
			truth := func(x float64) float64 { return 1.1 + 0.15*math.Sin(2*math.Pi*x/wave+wave) }
			res := readDepths(t, everyNth(truth, 55, n))
			for x := 1.0; x < 108; x++ {
				d, half := depthBand(res, x)
				if math.IsNaN(d) {
					continue
				}
				if places++; math.Abs(d-truth(x)) <= half {
					in++
				}
			}
		}
	}
	if share := float64(in) / float64(places); share < 0.88 {
		t.Errorf("%.1f %% of the places are inside the band", 100*share)
	}
	level := func(float64) float64 { return 1.1 }
	res := readDepths(t, everyNth(level, 55, 7))
	_, near := depthBand(res, 56.3)
	_, far := depthBand(res, 49)
	if far < 1.3*near {
		t.Errorf("± %.3f m between depths 14 m apart, ± %.3f m beside one", far, near)
	}
	if _, half := depthBand(readDepths(t, everyNth(level, 55, 1)), 49); half > 0.03 {
		t.Errorf("± %.3f m with all depths noted", half)
	}
}

// A depth that stands out from others 22 m away on both sides is where the line may well
// be; among others 2 m away it is none.
func TestNoSpikeAmongFarDepths(t *testing.T) {
	depths := make([]float64, 45)
	for i := range depths {
		if depths[i] = math.NaN(); i%11 == 0 {
			depths[i] = 0.95 + 0.01*float64(i%3)
		}
	}
	depths[22] = 1.36
	res := readDepths(t, depths)
	if res.Verdicts[22].Fate == DepthSpike {
		t.Errorf("set aside: %s", res.Verdicts[22].Why)
	}
	if d, half := depthBand(res, 44); math.Abs(d-1.36) > half {
		t.Errorf("%.2f ± %.2f m where 1.36 m was read", d, half)
	}
	for i := range depths {
		depths[i] = 0.95 + 0.01*float64(i%3)
	}
	depths[22] = 1.36
	if readDepths(t, depths).Verdicts[22].Fate != DepthSpike {
		t.Error("one of many is used")
	}
}
