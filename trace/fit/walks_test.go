package fit

import (
	"math"
	"math/rand/v2"

	"loamline.example/geo"
)

// truth is a made-up buried line and a walk over it.
type truth struct {
	path     geo.Polyline
	readings []reading
	blunder  []bool
	sigmaM   float64
}

// walkSpec is the recipe of a made-up walk.
type walkSpec struct {
	shape    string
	sigma    float64 // of the position error per axis
	share    float64 // of its variance that is Gauss-Markov
	tauS     float64
	stepM    float64
	blunders float64 // share of readings
	passes   int
	stated   float64 // stated sigma over the true one, 0 for none
	timed    bool
	shuffled bool
}

// curved lays out headings: legs of (length, turn per metre).
func curved(legs [][2]float64, turns []float64) []geo.XY {
	p, heading := geo.XY{}, 0.3
	out := []geo.XY{p}
	for i, l := range legs {
		for s := 0.0; s < l[0]; s += 0.25 {
			heading += l[1] * 0.25
			p = p.Add(geo.XY{X: math.Cos(heading), Y: math.Sin(heading)}.Scale(0.25))
			out = append(out, p)
		}
		if i < len(turns) {
			heading += turns[i]
		}
	}
	return out
}

func shapeOf(kind string, r *rand.Rand) []geo.XY {
	u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	side := 1.0
	if r.IntN(2) == 0 {
		side = -1
	}
	switch kind {
	case "elbow45":
		return curved([][2]float64{{u(25, 60), 0}, {u(25, 60), 0}}, []float64{side * math.Pi / 4})
	case "elbow90":
		return curved([][2]float64{{u(25, 60), 0}, {u(25, 60), 0}}, []float64{side * math.Pi / 2})
	case "elbows":
		return curved([][2]float64{{u(15, 40), 0}, {u(15, 40), 0}, {u(15, 40), 0}, {u(15, 40), 0}},
			[]float64{side * math.Pi / 2, -side * math.Pi / 4, side * math.Pi / 2})
	case "sweep":
		rad := u(5, 30)
		return curved([][2]float64{{u(20, 50), 0}, {rad * u(0.6, 1.6), side / rad}, {u(20, 50), 0}}, nil)
	case "s":
		rad, a := u(12, 40), u(0.5, 1.2)
		return curved([][2]float64{{u(10, 30), 0}, {rad * a, side / rad}, {rad * a, -side / rad}, {u(10, 30), 0}}, nil)
	case "wander":
		var legs [][2]float64
		k := 0.0
		for i := 0; i < 40; i++ {
			k = 0.8*k + 0.012*r.NormFloat64()
			legs = append(legs, [2]float64{2.5, k})
		}
		return curved(legs, nil)
	}
	return curved([][2]float64{{u(50, 120), 0}}, nil)
}

// made returns the walk of a recipe, always the same for a seed.
func made(spec walkSpec, seed uint64) truth {
	r := rand.New(rand.NewPCG(seed, 77))
	t := truth{path: geo.NewPolyline(shapeOf(spec.shape, r)), sigmaM: spec.sigma}
	var at []float64
	length := t.path.Length()
	for pass := 0; pass < max(1, spec.passes); pass++ {
		var one []float64
		for s := r.Float64(); s < length; s += spec.stepM * (0.6 + 0.8*r.Float64()) {
			one = append(one, s)
		}
		if pass%2 == 1 {
			for i, j := 0, len(one)-1; i < j; i, j = i+1, j-1 {
				one[i], one[j] = one[j], one[i]
			}
		}
		at = append(at, one...)
	}
	clock := 0.0
	gm := geo.XY{X: r.NormFloat64(), Y: r.NormFloat64()}
	for _, s := range at {
		dt := spec.stepM / 0.3 * (0.7 + 0.6*r.Float64())
		clock += dt
		phi := math.Exp(-dt / spec.tauS)
		q := math.Sqrt(1 - phi*phi)
		gm = geo.XY{X: phi*gm.X + q*r.NormFloat64(), Y: phi*gm.Y + q*r.NormFloat64()}
		p := t.path.At(s)
		d := t.path.Direction(s)
		a, b := spec.sigma*math.Sqrt(spec.share), spec.sigma*math.Sqrt(1-spec.share)
		p = p.Add(gm.Scale(a)).Add(geo.XY{X: b * r.NormFloat64(), Y: b * r.NormFloat64()})
		depth := 1 + 0.1*math.Sin(s/20)
		p = p.Add(geo.XY{X: d.Y, Y: -d.X}.Scale(0.03 * depth * r.NormFloat64()))
		bad := r.Float64() < spec.blunders
		if bad {
			ang, far := r.Float64()*2*math.Pi, math.Exp(math.Log(20)*r.Float64())
			p = p.Add(geo.XY{X: far * math.Cos(ang), Y: far * math.Sin(ang)})
		}
		rd := reading{Pos: p, TimeS: math.NaN(), SigmaM: math.NaN(), Fix: -1, HDOP: math.NaN(), DepthM: depth * math.Exp(0.03*r.NormFloat64())}
		if spec.timed {
			rd.TimeS = clock
		}
		if spec.stated > 0 {
			rd.SigmaM = spec.sigma * spec.stated
		}
		t.readings = append(t.readings, rd)
		t.blunder = append(t.blunder, bad)
	}
	if spec.shuffled {
		r.Shuffle(len(t.readings), func(i, j int) {
			t.readings[i], t.readings[j] = t.readings[j], t.readings[i]
			t.blunder[i], t.blunder[j] = t.blunder[j], t.blunder[i]
		})
	}
	return t
}
