package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/tracetest/study"
)

// plain is a reading with a position and nothing else.
func plain(x, y float64) reading {
	nan := math.NaN()
	return reading{Pos: geo.XY{X: x, Y: y}, TimeS: nan, SigmaM: nan, Fix: -1, HDOP: nan, DepthM: nan}
}

// sane checks what every result must keep to, whatever went in.
func sane(t *testing.T, name string, readings []reading) Result {
	t.Helper()
	res, err := Line(context.Background(), asRead(readings), Options{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(res.Verdicts) != len(readings) {
		t.Fatalf("%s: %d verdicts for %d readings", name, len(res.Verdicts), len(readings))
	}
	last := math.Inf(-1)
	for _, p := range res.Parts {
		part := p.Vertices
		if len(part) < 2 {
			t.Errorf("%s: a part of %d vertices", name, len(part))
		}
		for i, v := range part {
			if math.IsNaN(v.Pos.X+v.Pos.Y) || math.IsInf(v.Pos.X+v.Pos.Y, 0) {
				t.Fatalf("%s: vertex at %v", name, v.Pos)
			}
			if v.StationM < last-1e-9 {
				t.Fatalf("%s: station %v after %v", name, v.StationM, last)
			}
			last = v.StationM
			if !(v.Horizontal95M > 0) || math.IsInf(v.Horizontal95M, 0) || v.Common95M > v.Horizontal95M {
				t.Fatalf("%s: band %v, common %v", name, v.Horizontal95M, v.Common95M)
			}
			if i > 0 && math.Abs(part[i-1].Pos.Dist(v.Pos)-(v.StationM-part[i-1].StationM)) > 1e-6 {
				t.Fatalf("%s: stations don't measure the line", name)
			}
		}
	}
	for i, v := range res.Verdicts {
		if v.Fate != Used && v.Why == nil {
			t.Errorf("%s: reading %d set aside without a reason", name, i)
		}
	}
	return res
}

func TestDegenerateInput(t *testing.T) {
	nan := math.NaN()
	same := []reading{plain(5, 5), plain(5, 5), plain(5, 5), plain(5, 5)}
	bad := []reading{plain(nan, 1), plain(1, nan), plain(math.Inf(1), 0)}
	for name, in := range map[string][]reading{"none": nil, "one": {plain(1, 2)}, "one spot": same, "no position": bad} {
		if res := sane(t, name, in); len(res.Parts) != 0 {
			t.Errorf("%s: a line was drawn", name)
		}
	}
	two := []reading{plain(0, 0), plain(10, 0)}
	three := append(append([]reading{}, two...), plain(20, 1))
	doubled := append(append([]reading{}, three...), three...)
	for name, in := range map[string][]reading{"two": two, "three": three, "doubled": doubled} {
		res := sane(t, name, in)
		if len(res.Parts) == 0 {
			t.Fatalf("%s: no line", name)
		}
		last := res.Parts[len(res.Parts)-1].Vertices
		if l := last[len(last)-1].StationM; l < 9.9 || l > 21 {
			t.Errorf("%s: length %v", name, l)
		}
	}
}

// TestAnyInput throws shapeless readings of seven kinds at the fit.
func TestAnyInput(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for trial := 0; trial < study.Of(70, 400); trial++ {
		n := r.IntN(60)
		in := make([]reading, n)
		for i := range in {
			in[i] = plain(0, 0)
			switch trial % 7 {
			case 0: // a cloud
				in[i].Pos = geo.XY{X: 50 * r.Float64(), Y: 50 * r.Float64()}
			case 1: // a coarse lattice with many doubles
				in[i].Pos = geo.XY{X: float64(r.IntN(5)), Y: float64(r.IntN(5))}
			case 2: // a loop that closes
				a := 2 * math.Pi * float64(i) / float64(n)
				in[i].Pos = geo.XY{X: 20 * math.Cos(a), Y: 20 * math.Sin(a)}
			case 3: // to and fro
				in[i].Pos = geo.XY{X: 30 * math.Abs(math.Sin(float64(i)/5)), Y: 0.02 * r.NormFloat64()}
			case 4: // two far clusters
				in[i].Pos = geo.XY{X: 1e5*float64(i%2) + r.Float64(), Y: r.Float64()}
			case 5: // on one line without noise
				in[i].Pos = geo.XY{X: float64(i), Y: 2 * float64(i)}
			case 6: // huge coordinates
				in[i].Pos = geo.XY{X: 5e6 + float64(i), Y: 4e6 + 0.1*r.NormFloat64()}
			}
			if r.IntN(3) == 0 {
				in[i].TimeS = float64(r.IntN(50))
			}
			if r.IntN(3) == 0 {
				in[i].DepthM = r.NormFloat64()
			}
			if r.IntN(4) == 0 {
				in[i].SigmaM = math.Pow(10, 3*r.Float64()-3)
			}
			in[i].Fix = int8(r.IntN(10) - 1)
			in[i].Exposed = r.IntN(20) == 0
		}
		sane(t, "any", in)
	}
}

// Readings hundreds of metres apart make no traced line, however straight they
// stand; beside a traced stretch they are noted as alone.
func TestFarApart(t *testing.T) {
	var far, both []reading
	for i := range 40 {
		far = append(far, plain(800*float64(i), 0.02*float64(i%3)))
		both = append(both, plain(2*float64(i), 0.02*float64(i%3)))
	}
	res, err := Line(context.Background(), asRead(far), Options{})
	if err != nil || len(res.Parts) != 0 {
		t.Errorf("%v, %d parts drawn through readings 800 m apart", err, len(res.Parts))
	}
	for _, v := range res.Verdicts {
		if v.Fate == Used {
			t.Error("a reading with no line to it is called used")
			break
		}
	}
	res, err = Line(context.Background(), asRead(append(both, plain(900, 0))), Options{})
	if err != nil || len(res.Parts) != 1 || res.Verdicts[40].Fate == Used {
		t.Errorf("%v, %d parts, the far reading's fate %v", err, len(res.Parts), res.Verdicts[40])
	}
}
