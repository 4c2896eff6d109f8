package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// slowWalk reads a straight line of 60 m every 1.5 m and 10 s, by positions whose error,
// of 1.6 m a axis as stated, is a Gauss-Markov process of 300 s but for whitePart of its
// variance: by code and smoothed, as they come from receivers in the hand (Sensors 2020,
// 20:6050).
func slowWalk(seed uint64, whitePart float64) []trace.Reading {
	const sigmaM, everyS, tauS = 1.6, 10.0, 300.0
	rng := rand.New(rand.NewPCG(seed, 3))
	two := func(s float64) geo.XY { return geo.XY{X: s * rng.NormFloat64(), Y: s * rng.NormFloat64()} }
	slow, white := sigmaM*math.Sqrt(1-whitePart), sigmaM*math.Sqrt(whitePart)
	keep := math.Exp(-everyS / tauS)
	at := two(slow)
	var out []trace.Reading
	for i := range 41 {
		r := trace.NewReading()
		r.Row, r.Pos = int32(i+2), geo.XY{X: 1.5 * float64(i)}.Add(at).Add(two(white))
		r.HAccM, r.Fix, r.DepthM = sigmaM, trace.FixAutonomous, 1
		r.Time = time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 10 * time.Second)
		out = append(out, r)
		at = at.Scale(keep).Add(two(slow * math.Sqrt(1-keep*keep)))
	}
	return out
}

// Positions that scatter little from one reading to the next are not for that better
// than stated: nearly all of their error may be common to neighbours. The bands of many
// such walks hold the true line about as often as they say.
func TestLittleScatterIsNoGoodAccuracy(t *testing.T) {
	for _, whitePart := range []float64{0.01, 0.03, 0.1} {
		in, all := 0.0, 0.0
		for seed := range uint64(60) {
			res, err := Line(context.Background(), slowWalk(seed, whitePart), Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range res.Parts {
				for _, v := range p.Vertices {
					all++
					if math.Abs(v.Pos.Y) <= v.Horizontal95M {
						in++
					}
				}
			}
		}
		if all == 0 || in/all < 0.9 {
			t.Errorf("white part %.2f: %.1f %% of %v places inside the band", whitePart, 100*in/all, all)
		}
	}
}

// Where the scatter tells that positions shown as fixed by carrier phase are not, they are of
// another kind, which have more in common than shows: the bands of many such walks hold the
// true line about as often as they say, and nearly all are told. Walks whose fix is the one
// shown are not.
func TestAFixThatIsNotTheOneShown(t *testing.T) {
	const walks = 60
	walked := func(times, statedM float64) (inside float64, told int) {
		in, all := 0.0, 0.0
		for seed := range uint64(walks) {
			rs := slowWalk(seed, 0.3)
			for i := range rs {
				at := geo.XY{X: 1.5 * float64(i)}
				rs[i].Pos = at.Add(rs[i].Pos.Sub(at).Scale(times))
				rs[i].HAccM, rs[i].Fix = statedM, trace.FixRTK
			}
			res, err := Line(context.Background(), rs, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if res.Noise.OtherFixM > 0 {
				told++
			}
			for _, p := range res.Parts {
				for _, v := range p.Vertices {
					all++
					if math.Abs(v.Pos.Y) <= v.Horizontal95M {
						in++
					}
				}
			}
		}
		return in / math.Max(1, all), told
	}
	// A fifth of the errors of slowWalk are those of a float fix, a hundredth those of a fixed one,
	// and a receiver that shows the one for the other may state what it is good to accordingly.
	// Were every stated figure believed to be of the position that has it, 93.6 % would be inside.
	for _, statedM := range []float64{math.NaN(), 0.015} {
		least := 0.9
		if statedM > 0 {
			least = 0.96
		}
		if in, told := walked(0.2, statedM); in < least || told < walks*9/10 {
			t.Errorf("float as fixed, stated %.3f m: %.1f %% of all places inside the band, %d of %d walks told", statedM, 100*in, told, walks)
		}
		if in, told := walked(0.01, statedM); in < 0.9 || told > 0 {
			t.Errorf("fixed, stated %.3f m: %.1f %% of all places inside the band, %d of %d walks told", statedM, 100*in, told, walks)
		}
	}
}

// Only what is shown as RTK fixed is told to be no such fix: positions of another that are stated
// to be as good have a statement that is too little, and the band holds what they may be off.
func TestAFixThatIsNotShownIsNotTold(t *testing.T) {
	for fix, want := range map[trace.Fix]bool{trace.FixRTK: true, trace.FixFloat: false, trace.FixDifferential: false} {
		rng := rand.New(rand.NewPCG(1, 3))
		var rs []trace.Reading
		for i := range 40 {
			r := trace.NewReading()
			r.Row, r.Pos = int32(i+2), geo.XY{X: 1.5 * float64(i), Y: 0.2 * rng.NormFloat64()}
			r.HAccM, r.Fix, r.DepthM = 0.055, fix, 1
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if told := res.Noise.OtherFixM > 0; told != want || !res.Noise.Widened || res.Noise.CommonM < 0.2 {
			t.Errorf("fix %d: told %t, noise %+v", fix, told, res.Noise)
		}
	}
}

// Exposed places scatter about nothing: however many they are, they do not tell that their fix
// may be another than the one shown, and have no more in common than it has.
func TestExposedPlacesTellOfNoOtherFix(t *testing.T) {
	var rs []trace.Reading
	for i := range 20 {
		r := trace.NewReading()
		r.Row, r.Pos = int32(i+2), geo.XY{X: 2 * float64(i)}
		r.HAccM, r.Fix, r.DepthM, r.Exposed = 0.01, trace.FixRTK, 1, true
		rs = append(rs, r)
	}
	res, err := Line(context.Background(), rs, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if res.Noise.OtherFixM > 0 || res.Noise.CommonM > 0.015 {
		t.Errorf("noise %+v", res.Noise)
	}
}

// A line that winds by 0.3 m over 25 m, read every 8 m or so by fixed positions, may be taken
// for a straight one whose positions are worse than stated: the band holds where it lies.
func TestALineThatWindsBetweenReadings(t *testing.T) {
	in, all := 0.0, 0.0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 9))
		phase := 2 * math.Pi * rng.Float64()
		windsM := func(x float64) float64 { return 0.3 * math.Sin(2*math.Pi*x/25+phase) }
		var line []geo.XY
		for x := -20.0; x <= 190; x += 0.25 {
			line = append(line, geo.XY{X: x, Y: windsM(x)})
		}
		var rs []trace.Reading
		for x := 0.0; x <= 160; x += 6.4 + 3.2*rng.Float64() {
			r := trace.NewReading()
			r.Row, r.Pos = int32(len(rs)+2), geo.XY{X: x, Y: windsM(x) + 0.02*rng.NormFloat64()}
			r.HAccM, r.Fix, r.DepthM = 0.015, trace.FixRTK, 1
			r.Time = time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC).Add(time.Duration(1.5 * x * 1e9))
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		truth := geo.NewPolyline(line)
		for _, p := range res.Parts {
			for i := 1; i < len(p.Vertices); i++ {
				a, b := p.Vertices[i-1], p.Vertices[i]
				for s := a.StationM; s < b.StationM; s += 0.5 {
					u := (s - a.StationM) / (b.StationM - a.StationM)
					all++
					if off := truth.Nearest(a.Pos.Add(b.Pos.Sub(a.Pos).Scale(u))).OffsetM; math.Abs(off) <= a.Horizontal95M+u*(b.Horizontal95M-a.Horizontal95M) {
						in++
					}
				}
			}
		}
	}
	if all == 0 || in/all < 0.9 {
		t.Errorf("%.1f %% of all places inside the band", 100*in/all)
	}
}
