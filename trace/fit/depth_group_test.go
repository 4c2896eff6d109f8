package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
)

// Two or three shallow readings among deep ones are a shallow line: the most
// dangerous thing to smooth away. A single one is nonsense as often, and is kept
// out as before.
func TestShallowGroupsAreNoSpikes(t *testing.T) {
	for _, shallow := range []float64{0.3, 0.4, 0.5} {
		for n := 2; n <= 4; n++ {
			var rs []reading
			for i := range 30 {
				r := reading{Pos: geo.XY{X: 2 * float64(i), Y: 0.01 * math.Sin(float64(i*i))}, TimeS: 8 * float64(i), SigmaM: 0.015, Fix: 4,
					HDOP: math.NaN(), DepthM: 1.2 + 0.03*math.Sin(float64(3*i*i)), CurrentMA: math.NaN()}
				if i >= 14 && i < 14+n {
					r.DepthM = shallow * (1 + 0.03*math.Sin(float64(i)))
				}
				rs = append(rs, r)
			}
			res, err := Line(context.Background(), asRead(rs), Options{})
			if err != nil {
				t.Fatal(err)
			}
			for i := 14; i < 14+n; i++ {
				v := res.Verdicts[i]
				d := depthAt(res.Parts, v.StationM)
				if v.Fate != Used || math.Abs(d-shallow) > 0.25 {
					t.Errorf("%d readings of %.1f m: fate %d, drawn at %.2f m", n, shallow, v.Fate, d)
				}
			}
		}
	}
}

// A depth drawn outside all that was read near it is told, and its band holds
// what was read: here two legs 1.2 m apart, of which nobody says whether the
// same current flows back in the second.
func TestDepthsOutsideWhatWasRead(t *testing.T) {
	var rs []reading
	for i := range 50 {
		x, y := 2*float64(i), 0.0
		if i >= 25 {
			x, y = 2*float64(49-i), 1.2
		}
		rs = append(rs, reading{Pos: geo.XY{X: x, Y: y + 0.01*math.Sin(float64(i*i))}, TimeS: 8 * float64(i), SigmaM: 0.015, Fix: 4,
			HDOP: math.NaN(), DepthM: 1 + 0.02*math.Sin(float64(3*i*i)), CurrentMA: math.NaN()})
	}
	res, err := Line(context.Background(), asRead(rs), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range res.Parts {
		for _, v := range p.Vertices {
			if math.Abs(v.DepthM-1) > v.Depth95M+0.03 || math.Abs(v.DepthM-1) > 0.12 && res.Noise.DepthOutsideM == 0 {
				t.Fatalf("%.2f ± %.2f m where 1.00 m was read, told %.2f m", v.DepthM, v.Depth95M, res.Noise.DepthOutsideM)
			}
		}
	}
}
