package bleed

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// Where the pieces of a course head the same way, no direction over a depth turns
// by more: the short cut may say nothing that the long way would not.
func TestHeadingsAgainstTurns(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	straight, bent := 0, 0
	for range 300 {
		wobble, at, heading := rng.Float64()*0.2, geo.XY{}, rng.Float64()*2*math.Pi
		points := []geo.XY{at}
		for range 3 + rng.IntN(60) {
			if rng.IntN(15) == 0 {
				heading += rng.NormFloat64()
			}
			step := 2 * rng.Float64()
			if rng.IntN(10) == 0 {
				step = 0 // two readings at the same place
			}
			h := heading + wobble*rng.NormFloat64()
			at = at.Add(geo.XY{X: step * math.Sin(h), Y: step * math.Cos(h)})
			points = append(points, at)
		}
		path := geo.NewPolyline(points)
		heads := newHeadings(path)
		for range 50 {
			station, depth := rng.Float64()*path.Length(), 0.3+2*rng.Float64()
			reach := depth * float64(1+rng.IntN(8))
			turn := turned(path, station, reach, depth)
			switch said := heads.within(station-reach-depth, station+reach+depth, straightEnough); {
			case said && turn >= straightEnough:
				t.Fatalf("called straight at %v ± %v m of %v, and turns by %v", station, reach, points, turn)
			case said:
				straight++
			case turn >= straightEnough:
				bent++
			}
		}
	}
	if straight < 1000 || bent < 1000 {
		t.Errorf("%d straight and %d bent places show little", straight, bent)
	}
}
