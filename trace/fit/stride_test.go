package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// A winding line read in stride is drawn where the receiver was carried, some hand's breadths
// beside it for some metres, and its band holds the line all the same; where the times leave
// some seconds at each place the same marks are what the line does.
func TestBandOfAWalkInStride(t *testing.T) {
	bandOf := func(everyS float64) (held, bandM float64) {
		n, m := 0.0, 0.0
		for seed := range uint64(6) {
			r := rand.New(rand.NewPCG(seed, 41))
			legs := make([][2]float64, 8)
			for i := range legs {
				legs[i] = [2]float64{15 + 5*r.Float64(), 0.06 * (2*r.Float64() - 1)}
			}
			path := geo.NewPolyline(curved(legs, nil))
			var in []reading
			sway := 0.0
			for s := 0.0; s < path.Length(); s++ {
				kept := math.Exp(-1.0 / 4)
				sway = kept*sway + 0.08*math.Sqrt(1-kept*kept)*r.NormFloat64()
				d := path.Direction(s)
				p := path.At(s).Add(geo.XY{X: d.Y, Y: -d.X}.Scale(sway + 0.03*r.NormFloat64()))
				q := plain(p.X, p.Y)
				q.SigmaM, q.Fix, q.TimeS, q.DepthM = 0.02, 4, everyS*float64(len(in)), 1
				in = append(in, q)
			}
			res, err := Line(context.Background(), asRead(in), Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, part := range res.Parts {
				for _, v := range part.Vertices {
					n++
					m += v.Horizontal95M
					if math.Abs(path.Nearest(v.Pos).OffsetM) <= v.Horizontal95M {
						held++
					}
				}
			}
		}
		return held / n, m / n
	}
	held, bandM := bandOf(1)
	if held < 0.9 {
		t.Errorf("read in stride: %.0f %% of the line in its band", 100*held)
	}
	if _, pausedM := bandOf(12); pausedM > 0.85*bandM {
		t.Errorf("with pauses: a band of %.3f m on average, in stride one of %.3f", pausedM, bandM)
	} else {
		t.Logf("held %.3f, band %.3f, with pauses %.3f", held, bandM, pausedM)
	}
}

// What tells a walk in stride are times that leave none to stop in, at most places.
func TestReadInStride(t *testing.T) {
	for _, c := range []struct {
		name           string
		strideM, tookS float64
		want           bool
	}{
		{"a log of a reading a second", 1, 1, true},
		{"every two metres at a walk", 2, 2, true},
		{"every metre, found by a swing to either side", 1, 6, false},
		{"every eight metres, and some seconds there", 8, 12, false},
	} {
		var in []reading
		for i := range 20 {
			q := plain(c.strideM*float64(i), 0)
			q.SigmaM, q.Fix, q.TimeS, q.DepthM = 0.02, 4, c.tookS*float64(i), 1
			in = append(in, q)
		}
		if got := newWalk(in).stride; got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}
