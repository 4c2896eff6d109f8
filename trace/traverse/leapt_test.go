package traverse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/geo"
)

// uneven moves places along by a share of the stride, as a walker does.
func uneven(places []geo.XY, sigmaM float64, seed uint64) []geo.XY {
	r := rand.New(rand.NewPCG(seed, 1))
	out := slices.Clone(places)
	for k := range out {
		out[k].X += sigmaM * r.NormFloat64()
		out[k].Y += 0.02 * r.NormFloat64()
	}
	return out
}

func TestRunsThatLeapTogether(t *testing.T) {
	straight := along(4, geo.XY{}, geo.XY{X: 160})
	moved := func(by geo.XY, from, to int) []geo.XY {
		out := uneven(straight, 0.3, 7)
		for k := from; k < to; k++ {
			out[k] = out[k].Add(by)
		}
		return out
	}
	// offset walks an offset of the line: bends of an angle, as fittings have them.
	offset := func(sideM, bendDeg float64) []geo.XY {
		run := sideM / math.Tan(bendDeg*math.Pi/180)
		return uneven(along(4, geo.XY{}, geo.XY{X: 50}, geo.XY{X: 50 + run, Y: sideM}, geo.XY{X: 90, Y: sideM}, geo.XY{X: 90 + run}, geo.XY{X: 160}), 0.3, 7)
	}
	for _, c := range []struct {
		name   string
		places []geo.XY
		want   []int
	}{
		{"aside", moved(geo.XY{Y: 5}, 12, 18), []int{12, 13, 14, 15, 16, 17}},
		{"aside and ahead", moved(geo.XY{X: 3, Y: -6}, 12, 15), []int{12, 13, 14}},
		{"as far as a neighbour lies", moved(geo.XY{Y: 2}, 12, 18), nil},
		{"to the end", moved(geo.XY{Y: 5}, 30, len(straight)), nil},
		{"half the walk", moved(geo.XY{Y: 5}, 5, 30), nil},
		{"an offset by right angles", offset(5, 89.9), nil},
		{"an offset by bends of 45 degrees", offset(5, 45), nil},
		{"a corner", uneven(along(4, geo.XY{}, geo.XY{X: 80}, geo.XY{X: 80, Y: 80}), 0.1, 7), nil},
	} {
		var got []int
		for _, run := range LeaptRuns(walk(c.places...), all, ownM(0.02)) {
			got = append(got, run.Members...)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Strides that vary as much as the offset's way tell nothing.
func TestUnevenStridesTellNothing(t *testing.T) {
	places := uneven(along(12, geo.XY{}, geo.XY{X: 480}), 4, 3)
	for k := 12; k < 20; k++ {
		places[k].Y += 4
	}
	if runs := LeaptRuns(walk(places...), all, ownM(0.02)); len(runs) > 0 {
		t.Errorf("%+v", runs)
	}
}

// Positions of a metre's error lie aside by themselves.
func TestCoarsePositionsDoNotLeap(t *testing.T) {
	places := along(4, geo.XY{}, geo.XY{X: 160})
	for k := 12; k < 18; k++ {
		places[k].Y += 5
	}
	if runs := LeaptRuns(walk(places...), all, ownM(1)); len(runs) > 0 {
		t.Errorf("%+v", runs)
	}
}
