package bleed

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// fewReadings is a straight line read every so many metres by RTK, a metre deep, with
// the nulls given.
func fewReadings(everyM float64, nulls ...float64) Line {
	line := Line{Path: Path{Name: "A"}, AntennaGapM: trace.Unknown}
	for i, null := range nulls {
		r := trace.NewReading()
		r.StationM, r.Pos.X, r.HAccM, r.Fix, r.Status = everyM*float64(i), everyM*float64(i), 0.015, trace.FixRTK, trace.StatusUsed
		r.DepthM, r.NullOffsetM = 1, null
		line.Readings = append(line.Readings, r)
	}
	last := everyM * float64(len(nulls)-1)
	line.Points, line.DepthM, line.SigmaM = []geo.XY{{}, {X: last}}, []float64{1, 1}, []float64{0.03, 0.03}
	return line
}

// Where too little was read for the models, nulls far from their peaks are told; noise,
// one slip, and what a lead at the end may do are not.
func TestNullsApart(t *testing.T) {
	for what, c := range map[string]struct {
		nulls []float64
		told  bool
	}{
		"all to one side":              {[]float64{0.3, 0.28, 0.33, 0.29, 0.31, 0.3}, true},
		"less, all to one side":        {[]float64{0.2, 0.19, 0.21, 0.2, 0.19, 0.2}, true},
		"from side to side":            {[]float64{0.45, -0.44, 0.46, -0.45, 0.44, -0.46, 0.45, -0.45}, true},
		"two of seven, and back":       {[]float64{0.01, -0.02, 0.4, 0.42, 0.38, 0.01, 0}, true},
		"noise":                        {[]float64{0.04, -0.05, 0.06, -0.02, 0.03, -0.06}, false},
		"a little, all to one side":    {[]float64{0.07, 0.05, 0.08, 0.06, 0.05, 0.07}, false},
		"one slip":                     {[]float64{0.02, -0.01, 0.5, 0.01, -0.02, 0.01}, false},
		"none read":                    {[]float64{math.NaN(), math.NaN(), math.NaN(), math.NaN()}, false},
		"a lead beyond the last place": {[]float64{0, 0.01, 0, 0.02, 0.05, 0.14}, false},
	} {
		line := fewReadings(4, c.nulls...)
		rep, err := Detect(context.Background(), line, NewIndex([]Path{line.Path}))
		if err != nil {
			t.Fatal(err)
		}
		told := false
		for _, s := range rep.Stretches {
			told = told || s.Grade != trace.GradeWatch
		}
		if told != c.told {
			t.Errorf("%s: told %v, %+v", what, told, rep.Stretches)
		}
	}
}

// Some readings at one place are one slip.
func TestNullsApartAtOnePlace(t *testing.T) {
	line := fewReadings(0.3, 0.4, 0.42, 0.38, 0.41)
	rep, err := Detect(context.Background(), line, NewIndex([]Path{line.Path}))
	if err != nil || len(rep.Stretches) > 0 {
		t.Errorf("%v, %+v", err, rep.Stretches)
	}
}

// wavering is a straight line read every 1.5 m by RTK, whose depth shown swings by a
// quarter over some tens of metres, with nulls that lie biasM to the right, but for noise.
func wavering(seed uint64, biasM, noiseM float64) Line {
	rng := rand.New(rand.NewPCG(seed, 1))
	nulls := make([]float64, 40)
	for i := range nulls {
		nulls[i] = biasM + noiseM*rng.NormFloat64()
	}
	line := fewReadings(1.5, nulls...)
	for i := range line.Readings {
		r := &line.Readings[i]
		r.DepthM = 2.6 * (1 + 0.25*math.Sin(r.StationM/9)) * (1 + 0.04*rng.NormFloat64())
	}
	line.DepthM = []float64{2.6, 2.6}
	return line
}

// A null that lies to one side of the peak all along is told, whatever the models make of
// a depth that changes along the walk; the bias of an instrument and noise are not.
func TestNullsApartAllAlong(t *testing.T) {
	for what, c := range map[string]struct {
		biasM, noiseM float64
		told          bool
	}{
		"half a metre to the right": {0.5, 0.08, true},
		"half a metre to the left":  {-0.5, 0.08, true},
		"a bias of 3 cm":            {0.03, 0.08, false},
		"much noise":                {0, 0.15, false},
	} {
		for seed := range uint64(study.Of(2, 5)) {
			line := wavering(seed, c.biasM, c.noiseM)
			rep, err := Detect(context.Background(), line, NewIndex([]Path{line.Path}))
			if err != nil {
				t.Fatal(err)
			}
			toldM := 0.0
			for _, s := range rep.Stretches {
				if s.Grade != trace.GradeWatch {
					toldM = max(toldM, s.ToM-s.FromM)
				}
			}
			if (toldM > 50) != c.told || !c.told && toldM > 0 {
				t.Errorf("%s, seed %d: told along %.0f m, %+v", what, seed, toldM, rep.Stretches)
			}
		}
	}
}
