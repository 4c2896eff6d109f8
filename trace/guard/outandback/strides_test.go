package outandback

import (
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// walk is a walk of places a metre or so apart along a path of corners.
func walk(seed uint64, path ...geo.XY) []geo.XY {
	random := rand.New(rand.NewPCG(seed, 1))
	var out []geo.XY
	l := geo.NewPolyline(path)
	for s := 0.0; s <= l.Length(); s += 0.6 + 0.8*random.Float64() {
		out = append(out, l.At(s).Add(geo.XY{X: 0.2 * random.NormFloat64(), Y: 0.2 * random.NormFloat64()}))
	}
	return out
}

// Six places of a bent walk that lie 7 m aside are a leap; a detour that was walked, an offset
// that stays, and a walk to a line's end and back are none.
func TestLeaps(t *testing.T) {
	bent := []geo.XY{{}, {X: 20}, {X: 35, Y: 12}, {X: 60, Y: 12}}
	for seed := range uint64(40) {
		leapt := walk(seed, bent...)
		for k := 22; k < 28; k++ {
			leapt[k] = leapt[k].Add(geo.XY{X: -2, Y: 6.7})
		}
		if got := Leaps(leapt); len(got) != 1 || got[0].From != 22 || got[0].To != 28 || got[0].AsideM < 6 || got[0].AsideM > 8 {
			t.Errorf("seed %d: %v", seed, got)
		}
		stays := walk(seed, bent...)
		for k := 22; k < len(stays); k++ {
			stays[k] = stays[k].Add(geo.XY{X: -2, Y: 6.7})
		}
		for name, at := range map[string][]geo.XY{
			"as it is": walk(seed, bent...), "stays": stays,
			"detour":         walk(seed, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 20, Y: 7}, geo.XY{X: 26, Y: 7}, geo.XY{X: 26}, geo.XY{X: 50}),
			"there and back": append(walk(seed, geo.XY{}, geo.XY{X: 20}), geo.XY{X: 27}, geo.XY{X: 27.5}, geo.XY{X: 28}, geo.XY{X: 20.5}, geo.XY{X: 19.5}),
		} {
			if got := Leaps(at); len(got) > 0 {
				t.Errorf("%s, seed %d: %v", name, seed, got)
			}
		}
	}
	if Leaps(nil) != nil || Leaps([]geo.XY{{}}) != nil {
		t.Error("a leap of no stride")
	}
}
