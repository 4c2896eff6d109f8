package receiver_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/trace/receiver"
)

// written is a figure as a table has it.
func written(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(v*p) / p
}

func walk(n int, of func(deg float64) float64, decimals int) (lon, lat []float64) {
	rng := rand.New(rand.NewPCG(3, 5))
	for i := range n {
		lon = append(lon, written(of(-71.5+2e-5*float64(i)+1e-7*rng.NormFloat64()), decimals))
		lat = append(lat, written(of(44.1+7e-6*float64(i)+1e-7*rng.NormFloat64()), decimals))
	}
	return lon, lat
}

// TestDegreeSteps: figures that were rounded before they became decimal degrees show
// it, and those that were not do not.
func TestDegreeSteps(t *testing.T) {
	to := func(step float64) func(float64) float64 {
		return func(v float64) float64 { return math.Round(v/step) * step }
	}
	for _, c := range []struct {
		name     string
		of       func(float64) float64
		decimals int
		lon, lat float64
	}{
		{"as they were", func(v float64) float64 { return v }, 9, 0, 0},
		{"seven decimals", func(v float64) float64 { return v }, 7, 1e-7, 1e-7},
		{"minutes, four decimals", to(1e-4 / 60), 9, 1e-4 / 60, 1e-4 / 60},
		{"minutes, four decimals, written with seven", to(1e-4 / 60), 7, 1e-4 / 60, 1e-4 / 60},
		{"seconds, two decimals", to(1e-2 / 3600), 9, 1e-2 / 3600, 1e-2 / 3600},
		// 24 bits: 2^-17 from 64 to 128, 2^-18 from 32 to 64 (IEEE 754-2019, binary32).
		{"single precision", func(v float64) float64 { return float64(float32(v)) }, 9, math.Ldexp(1, -17), math.Ldexp(1, -18)},
		{"single precision, written with seven", func(v float64) float64 { return float64(float32(v)) }, 7, math.Ldexp(1, -17), math.Ldexp(1, -18)},
	} {
		lon, lat := walk(40, c.of, c.decimals)
		if a, b := receiver.DegreeSteps(lon, lat); math.Abs(a-c.lon) > 1e-12 || math.Abs(b-c.lat) > 1e-12 {
			t.Errorf("%s: steps %g and %g, want %g and %g", c.name, a, b, c.lon, c.lat)
		}
	}
}

// TestCoarserRows finds the rows that were rounded by themselves.
func TestCoarserRows(t *testing.T) {
	lon, lat := walk(40, func(v float64) float64 { return v }, 8)
	if got := receiver.CoarserRows(1e-5, 1e-8, lon, lat); got != nil {
		t.Errorf("rows %v of a table written in one way are coarser", got)
	}
	for i := 12; i < 30; i++ {
		lon[i], lat[i] = written(lon[i], 5), written(lat[i], 5)
	}
	if got := receiver.CoarserRows(1e-5, 1e-8, lon, lat); !slices.Equal(got, []receiver.Rows{{From: 12, To: 30}}) {
		t.Errorf("rows %v are coarser, want 12 up to 30", got)
	}
}

// TestCoarserColumn finds the step of a column that was rounded by itself: not of one that
// runs along the grid, that was paced, or that is as fine as the one beside it.
func TestCoarserColumn(t *testing.T) {
	column := func(n int, of func(i int) float64) []float64 {
		v := make([]float64, n)
		for i := range v {
			v[i] = of(i)
		}
		return v
	}
	read := func(i int) float64 { return written(4886020.3+0.7*float64(i)+0.013*float64(i*i%7), 3) }
	for _, c := range []struct {
		what   string
		column []float64
		stepM  float64
	}{
		{"as it was read", column(30, read), 0},
		{"to tens", column(30, func(i int) float64 { return 10 * math.Round(read(i)/10) }), 10},
		{"to decimetres", column(30, func(i int) float64 { return written(read(i), 1) }), 0.1},
		{"in single precision", column(30, func(i int) float64 { return float64(float32(read(i))) }), 0.5},
		{"one figure throughout", column(30, func(int) float64 { return 4886020 }), 0},
		{"paced", column(30, func(i int) float64 { return 4886020 + 2*float64(i) }), 0},
		{"two figures to millimetres", column(2, read), 0},
	} {
		if got := receiver.CoarserColumn(c.column, 1e-3); math.Abs(got-c.stepM) > 1e-12 {
			t.Errorf("%s: step %g m, want %g", c.what, got, c.stepM)
		}
	}
}
