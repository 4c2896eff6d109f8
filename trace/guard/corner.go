package guard

import (
	"math"
	"sort"

	"loamline.example/geo"
)

// sharpCorner is a turn of the drawn line that readings on either side of it could
// not have told from a sweep. Judgement.
const sharpCorner = 15 * math.Pi / 180

// corners asks the band to hold a sweep in place of a corner, as wide as the
// readings on both sides leave room for: with t the way from the corner to the
// nearer of them, an arc that is tangent to both legs there lies t*tan(turn/4)
// inside the corner. Readings that are loose leave room beyond themselves.
func (v *view) corners() []Breach {
	var out []Breach
	for part := range v.parts {
		var at []float64 // stations of the used readings
		for _, i := range v.usedOn(part) {
			at = append(at, v.feet[i].stationM)
		}
		vs := v.parts[part].Vertices
		for k := 1; k+1 < len(vs); k++ {
			turn := turnOf(vs[k-1].Pos, vs[k].Pos, vs[k+1].Pos)
			if !vs[k].Corner || turn < sharpCorner {
				continue
			}
			s := vs[k].StationM
			n := sort.SearchFloat64s(at, s)
			if n == 0 || n == len(at) {
				continue
			}
			t := math.Min(s-at[n-1], at[n]-s)
			t = math.Max(t, v.widestSweep(part, k, turn))
			if off := t * math.Tan(math.Min(turn, math.Pi/2)/4); off > vs[k].Horizontal95M {
				out = append(out, Breach{Kind: Between, FromM: s - t, ToM: s + t, BandM: math.Hypot(off, vs[k].Horizontal95M)})
			}
		}
	}
	return out
}

// widestSweep is how far from a corner an arc in its place may touch the legs and be as
// good as the corner to the used readings between, by the sum of the squares of their
// offsets over their own errors. At u from the corner, an arc that touches the legs at t
// lies (t-u)²·tan(turn/2)/2t inside of them, as its parabola does.
func (v *view) widestSweep(part, corner int, turn float64) float64 {
	vs := v.parts[part].Vertices
	s := vs[corner].StationM
	most := math.Min(s-v.parts[part].FromM(), v.parts[part].ToM()-s)
	for k := range vs {
		if x := &vs[k]; x.Corner && k != corner {
			most = math.Min(most, math.Abs(x.StationM-s)/2)
		}
	}
	a, b, c := vs[corner-1].Pos, vs[corner].Pos, vs[corner+1].Pos
	inside := math.Copysign(1, -b.Sub(a).Cross(c.Sub(b))) // of an offset, positive to the right
	type near struct{ fromM, insideM, ownM float64 }
	var about []near
	for _, i := range v.byPlace {
		if f := v.feet[i]; f.part == part && math.Abs(f.stationM-s) < most {
			about = append(about, near{math.Abs(f.stationM - s), inside * f.offsetM, v.ownM(i)})
		}
	}
	sort.SliceStable(about, func(i, j int) bool { return about[i].fromM < about[j].fromM })
	best, bends := 0.0, math.Tan(math.Min(turn, math.Pi/2)/2)
	for k := range about {
		t, worse := most, 0.0
		if k+1 < len(about) {
			t = about[k+1].fromM
		}
		for _, n := range about[:k+1] {
			arc := (t - n.fromM) * (t - n.fromM) * bends / (2 * math.Max(t, 1e-9))
			worse += (arc*arc - 2*arc*n.insideM) / (n.ownM * n.ownM)
		}
		if worse <= 0 {
			best = t
		}
	}
	return best
}

func turnOf(a, b, c geo.XY) float64 {
	p, q := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(p.Cross(q), p.Dot(q)))
}
