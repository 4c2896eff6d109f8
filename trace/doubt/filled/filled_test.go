package filled

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
)

// walk is a bent line of readings 2.5 m apart whose degrees have some decimals and scatter
// by a sigma.
func walk(n, decimals int, sigmaM, northPerM float64, seed uint64) []trace.Reading {
	rng := rand.New(rand.NewPCG(seed, 1))
	round := func(v float64) float64 { p := math.Pow10(decimals); return math.Round(v*p) / p }
	out := make([]trace.Reading, n)
	for i := range out {
		eastM := 2.5 * float64(i)
		northM := northPerM * 8 * math.Abs(math.Remainder(eastM, 60)) / 30
		out[i] = trace.Reading{Row: int32(i + 2), Line: "W", Projected: [2]float64{trace.Unknown, trace.Unknown}}
		out[i].Geographic.LatDeg = round(44.9778 + (northM+sigmaM*rng.NormFloat64())/perDegM)
		out[i].Geographic.LonDeg = round(-93.265 + (eastM+sigmaM*rng.NormFloat64())/perDegM/math.Cos(44.9778*math.Pi/180))
	}
	return out
}

func find(rs []trace.Reading) []Run { return Places(rs, rounding.Find(rs, 1)) }

// A latitude that was carried down, or counted up, while the longitude goes on is told
// with its rows; a whole column too.
func TestFilledLatitudes(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to int // of the readings, without the last
		by       float64
	}{
		{"carried down in the middle", 20, 32, 0}, {"five rows", 30, 35, 0}, {"to the end", 45, 60, 0},
		{"counted up to the end", 45, 60, 1e-6}, {"counted up by the last digit", 45, 60, 1e-8}, {"throughout", 1, 60, 1e-6},
	} {
		rs := walk(60, 8, 0.01, 1, 7)
		for i := c.from; i < c.to; i++ {
			rs[i].Geographic.LatDeg = math.Round((rs[c.from-1].Geographic.LatDeg+c.by*float64(i-c.from+1))*1e8) / 1e8
		}
		got := find(rs)
		if len(got) != 1 || got[0].Figure != remark.Latitude || got[0].Series != (c.by != 0) || got[0].ToRow != int32(c.to+1) || got[0].FromRow > int32(c.from+3) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// A line that runs due east gets no alarm by digits as coarse as its scatter, nor a walk
// whose receiver smooths.
func TestMeasuredPlacesAreNotFilled(t *testing.T) {
	told := 0
	for seed := range uint64(200) {
		for _, decimals := range []int{5, 6, 7, 8} {
			for _, sigmaM := range []float64{0.004, 0.01, 0.03} {
				for _, north := range []float64{0, 1} {
					got := find(walk(60, decimals, sigmaM, north, seed))
					if told += len(got); len(got) > 0 {
						t.Logf("%d decimals, %g m: %+v", decimals, sigmaM, got)
					}
				}
			}
		}
	}
	if told > 1 {
		t.Errorf("%d runs of 4,800 walks that were measured", told)
	}
}

// Who stands still repeats both figures, and figures that were computed to the last bit
// follow from each other by their making.
func TestStandingStillIsNotFilled(t *testing.T) {
	rs := walk(60, 8, 0.01, 1, 3)
	for i := 20; i < 30; i++ {
		rs[i].Geographic = rs[19].Geographic
	}
	if got := find(rs); len(got) > 0 {
		t.Error(got)
	}
	for i := range rs {
		rs[i].Geographic.LatDeg = 44.9778 + float64(i)/3e6
	}
	if got := find(rs); len(got) > 0 {
		t.Error(got)
	}
}
