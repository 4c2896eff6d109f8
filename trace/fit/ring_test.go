package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// ringWalk goes round a block of 20 by 14 m with rounded corners, to so far past where it
// began, with one long stride on a straight side.
func ringWalk(overM float64, r *rand.Rand) (in []reading) {
	const corner = 3.0
	quarter := corner * math.Pi / 2
	var legs [][2]float64
	for _, side := range []float64{10, 14, 20, 14, 20, 14, 20} { // begun amid a side, and once again round
		legs = append(legs, [2]float64{side, 0}, [2]float64{quarter, 1 / corner})
	}
	path := geo.NewPolyline(curved(legs, nil))
	round := 2*20 + 2*14 + 4*quarter
	for s := 0.0; s <= round+overM; s += 2.2 + 0.6*r.Float64() {
		if s > 38 && s < 41 {
			s += 2
		}
		q := plain(path.At(s).X+0.02*r.NormFloat64(), path.At(s).Y+0.02*r.NormFloat64())
		q.SigmaM, q.Fix, q.TimeS, q.DepthM = 0.02, 4, 5*s, 0.9
		in = append(in, q)
	}
	return in
}

// A ring is open where the walk began and ended, not at its longest stride. Where the walk
// went on past its start the line may end a stride short of closing, which the guard tells.
func TestARingIsOpenWhereItsWalkIs(t *testing.T) {
	for _, overM := range []float64{-2, -1, 0, 5, 9} {
		for seed := range uint64(6) {
			in := ringWalk(overM, rand.New(rand.NewPCG(seed, 9)))
			res := sane(t, "ring", in)
			var all []geo.Polyline
			for _, p := range res.Parts {
				all = append(all, geo.NewPolyline(p.Path()))
			}
			undrawn := 0
			for i := 1; i < len(in); i++ {
				mid, off := in[i-1].Pos.Lerp(in[i].Pos, 0.5), math.Inf(1)
				for _, line := range all {
					off = math.Min(off, math.Abs(line.Nearest(mid).OffsetM))
				}
				if off > 1.2 { // 1.1 m is what a stride over a corner cuts off
					undrawn++
				}
			}
			if undrawn > 1 || undrawn > 0 && overM < 0 {
				t.Errorf("%+.1f m, seed %d: no line at %d of %d strides", overM, seed, undrawn, len(in)-1)
			}
		}
	}
}
