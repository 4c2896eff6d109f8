package guard

import (
	"math"
	"sort"

	"loamline.example/geo"
)

// sharpCorner is a turn of the drawn line that readings on either side of it could
// not have told from a sweep.
const sharpCorner = 15 * math.Pi / 180

// corners asks the band to hold a sweep in place of a corner, as wide as the
// readings on both sides leave room for: with t the way from the corner to the
// nearer of them, an arc that is tangent to both legs there lies t*tan(turn/4)
// inside the corner.
func (v *view) corners() []Breach {
	var out []Breach
	for part := range v.parts {
		var at []float64 // stations of the used readings
		for _, i := range v.byPlace {
			if v.feet[i].part == part {
				at = append(at, v.feet[i].stationM)
			}
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
			if off := t * math.Tan(math.Min(turn, math.Pi/2)/4); off > vs[k].Horizontal95M {
				out = append(out, Breach{Kind: Between, FromM: s - t, ToM: s + t, BandM: math.Hypot(off, vs[k].Horizontal95M)})
			}
		}
	}
	return out
}

func turnOf(a, b, c geo.XY) float64 {
	p, q := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(p.Cross(q), p.Dot(q)))
}
