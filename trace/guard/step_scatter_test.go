package guard

import (
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// TestScatterMakesNoStep: marks that scatter six times as far as is told of them come to lie
// beside each other by chance on a walk of hundreds; a step stands out of what they do.
func TestScatterMakesNoStep(t *testing.T) {
	const scatterM, stepM = 0.12, 1.6
	walk := func(seed uint64, asideM float64) (told int) {
		r := rand.New(rand.NewPCG(7, seed))
		way, at := make([]geo.XY, 200), make([]geo.XY, 200)
		for i := range at {
			way[i].X = 7 * float64(i)
			at[i] = geo.XY{X: way[i].X, Y: scatterM * r.NormFloat64()}
			if i >= 100 {
				at[i].Y += asideM
			}
		}
		return countKind(Check(read(line(0.3, way...), at...), rule(), Step), Step) // told to be good to 2 cm
	}
	byChance, found := 0, 0
	for seed := range uint64(60) {
		byChance += walk(seed, 0)
		found += min(1, walk(seed, stepM))
	}
	if byChance > 2 || found < 50 {
		t.Errorf("%d steps told on 60 straight walks, %d of 60 steps of %.1f m found", byChance, found, stepM)
	}
}
