package guard

import (
	"math"
	"testing"
)

// A way across that is not straight parts a sweep in two, and the shorter is a sweep still.
func TestASweepThatIsParted(t *testing.T) {
	across := []float64{0, 1, 2, 1, 0, -1, -2, -1}
	walk := along(60, func(x float64) float64 { return across[int(x/2)%8] })
	for i := range walk {
		walk[i].X /= 4
	}
	for i := 13; i < len(walk); i++ {
		walk[i].X -= 0.5 * math.Min(2, float64(i-12))
	}
	bs := Check(read(line(0.03, walk...), walk...), rule(), Zigzag)
	end := line(0.03, walk...).Centerline.Parts[0].ToM()
	if len(bs) != 1 || bs[0].FromM > 3 || bs[0].ToM < end-3 {
		t.Errorf("%+v of %.1f m", bs, end)
	}
}
