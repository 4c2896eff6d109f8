package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A straight line that is read three times at each stop is drawn from its first stop to
// its last: three readings in one place tell no direction to grow a piece from.
func TestStopsOfThree(t *testing.T) {
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 3))
		var in []reading
		for x := 0.0; x < 160; x += 2 + 3*r.Float64() {
			hand := 0.05 * r.NormFloat64()
			for range 3 {
				q := plain(x+0.03*r.NormFloat64(), hand+0.03*r.NormFloat64())
				q.SigmaM, q.Fix, q.TimeS, q.DepthM = 0.02, 4, 12*float64(len(in)), 0.8
				in = append(in, q)
			}
		}
		res := sane(t, "stops", in)
		aside := setAside(res)
		if n := len(aside); n > len(in)/20 {
			t.Errorf("seed %d: %d of %d readings are set aside, among them %v", seed, n, len(in), aside[:min(n, 30)])
		}
		if at := res.Parts[0].Vertices[0].Pos; math.Hypot(at.X-in[0].Pos.X, at.Y-in[0].Pos.Y) > 1 {
			t.Errorf("seed %d: the line begins at %.1f m", seed, at.X)
		}
	}
}
