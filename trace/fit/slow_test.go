package fit

import (
	"math/rand/v2"
	"testing"
)

// A walk of some minutes by positions that are stated to be off by a metre, and scatter by a
// tenth of that, shows nothing of the other nine tenths: they stay for longer than it takes
// (published: Sensors 2020, 20:6050), and its band is that of one of its readings, however
// many there are. Fixed positions of centimetres are averaged as far as their scatter says.
func TestLoosePositionsAreNotAveraged(t *testing.T) {
	for _, c := range []struct {
		name                string
		fix                 int8
		statedM, scatterM   float64
		leastBand, mostBand float64 // over 1.96 times what is stated
	}{
		{"differential", 2, 1, 0.1, 1, 1.2},
		{"float", 5, 0.3, 0.05, 1, 1.2},
		{"fixed", 4, 0.02, 0.02, 0.5, 0.95},
	} {
		r := rand.New(rand.NewPCG(7, 7))
		in := make([]reading, 135)
		for i := range in {
			in[i] = plain(0.5*float64(i), c.scatterM*r.NormFloat64())
			in[i].TimeS, in[i].Fix, in[i].SigmaM = 3*float64(i), c.fix, c.statedM // a swing to either side at each
		}
		part := fitted(t, in).Parts[0].Vertices
		middle := part[len(part)/2]
		if got := middle.Horizontal95M / (1.96 * c.statedM); got < c.leastBand || got > c.mostBand {
			t.Errorf("%s: ± %.3f m by readings stated to %.2f m", c.name, middle.Horizontal95M, c.statedM)
		}
		if got := middle.Common95M / (1.96 * c.statedM); c.leastBand == 1 && got < 1 {
			t.Errorf("%s: ± %.3f m of it in common", c.name, middle.Common95M)
		}
	}
}
