package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// A straight line of which every place was read two or three times, as at two
// frequencies, keeps its readings to both ends, and its stride is that from place to
// place.
func TestPlacesReadTwice(t *testing.T) {
	for _, times := range []int{1, 2, 3} {
		r := rand.New(rand.NewPCG(5, uint64(times)))
		var in []reading
		for p := range 40 {
			for range times {
				q := plain(2*float64(p)+0.012*r.NormFloat64(), 0.012*r.NormFloat64())
				q.TimeS, q.SigmaM, q.Fix = 8*float64(len(in)), 0.015, 4
				q.DepthM = 1 + 0.03*r.NormFloat64()
				in = append(in, q)
			}
		}
		if step := newWalk(in).stepM; math.Abs(step-2) > 0.1 {
			t.Errorf("each place %d times: a stride of %.2f m", times, step)
		}
		res, err := Line(context.Background(), asRead(in), Options{})
		if err != nil {
			t.Fatal(err)
		}
		used := 0
		for _, v := range res.Verdicts {
			if v.Fate == Used {
				used++
			}
		}
		if l := res.Parts[len(res.Parts)-1].ToM() - res.Parts[0].FromM(); len(res.Parts) != 1 || l < 77.8 || used < len(in)*95/100 {
			t.Errorf("each place %d times: %d parts, %.1f m, %d of %d readings used", times, len(res.Parts), l, used, len(in))
		}
	}
}
