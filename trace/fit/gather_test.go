package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// denseWalk is a straight walk of n readings a second apart, stepM apart, that
// scatter by sigmaM.
func denseWalk(n int, stepM, sigmaM float64) []reading {
	r := rand.New(rand.NewPCG(3, 4))
	out := make([]reading, n)
	for i := range out {
		out[i] = reading{Pos: geo.XY{X: stepM*float64(i) + sigmaM*r.NormFloat64(), Y: sigmaM * r.NormFloat64()},
			TimeS: float64(i), SigmaM: sigmaM, Fix: 1, HDOP: math.NaN(), DepthM: math.NaN()}
	}
	return out
}

func TestGather(t *testing.T) {
	untimed := denseWalk(400, 1, 8)
	untimed[7].TimeS = math.NaN()
	tests := []struct {
		name     string
		readings []reading
		gathered bool
	}{
		{"a fix a second, 8 m of scatter", denseWalk(400, 1, 8), true},
		{"readings a stride apart", denseWalk(400, 2, 0.02), false},
		{"few readings", denseWalk(60, 1, 8), false},
		{"one without a time", untimed, false},
	}
	for _, tt := range tests {
		groups := gather(tt.readings)
		if (groups != nil) != tt.gathered {
			t.Errorf("%s: %d groups", tt.name, len(groups))
		}
		seen := map[int]bool{}
		for _, g := range groups {
			for _, i := range g {
				seen[i] = true
			}
		}
		if tt.gathered && len(seen) != len(tt.readings) {
			t.Errorf("%s: %d of %d readings are in a group", tt.name, len(seen), len(tt.readings))
		}
	}
}

func TestGatheredKeepsCountAndPlace(t *testing.T) {
	in := denseWalk(400, 1, 8)
	in[100].Pos = in[100].Pos.Add(geo.XY{Y: 300})
	res, err := Line(context.Background(), asRead(in), Options{})
	if err != nil || len(res.Verdicts) != len(in) || len(res.Parts) != 1 {
		t.Fatalf("%v, %d verdicts, %d parts", err, len(res.Verdicts), len(res.Parts))
	}
	if res.Verdicts[100].Fate != Blunder || math.Abs(math.Abs(res.Verdicts[100].OffsetM)-300) > 25 {
		t.Errorf("the leap: %+v", res.Verdicts[100])
	}
	for _, v := range res.Parts[0].Vertices {
		if math.Abs(v.Pos.Y) > v.Horizontal95M {
			t.Errorf("at %.0f m the line is %.1f m off, its band %.1f m", v.StationM, v.Pos.Y, v.Horizontal95M)
		}
	}
}
