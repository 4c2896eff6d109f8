package fit

import (
	"math"

	"loamline.example/geo"
)

// rivalBand is another shape that the line may have, with its own band.
type rivalBand struct {
	*bander
	idx    *geo.PolylineIndex
	chance float64 // over that of the drawn shape
}

// rivalBands prepares the shapes that are not much less likely than the drawn
// one, with their odds (Kass and Raftery 1995, JASA 90:773).
func (t *traced) rivalBands() []rivalBand {
	var out []rivalBand
	for _, r := range t.rivals {
		out = append(out, rivalBand{newBander(r.w, r.sh, r.w.learnNoise(r.sh, coarseNoise)), r.sh.line.Index(), math.Exp(-0.5 * (r.score - t.score))})
	}
	return out
}

// averaged widens a half-width at p for the rivals: 95 % of the mixture of all
// shapes lies within it.
func averaged(h float64, rivals []rivalBand, p geo.XY) float64 {
	if len(rivals) == 0 {
		return h
	}
	sd, off, chance := []float64{h / 1.96}, []float64{0}, []float64{1}
	total, top := 1.0, h
	for _, r := range rivals {
		f := r.idx.Nearest(p)
		s := r.bander.at(int(r.sh.owner[f.Segment]), f.At) / 1.96
		sd, off, chance = append(sd, s), append(off, math.Abs(f.OffsetM)), append(chance, r.chance)
		total += r.chance
		top = math.Max(top, math.Abs(f.OffsetM)+surelyInside*s)
	}
	return halfWidth(sd, off, chance, total, top)
}

// halfWidth is what holds 95 % of a mixture of normal errors, each with its standard
// deviation, how far off its middle is and its chance out of the total; top holds them all.
func halfWidth(sd, off, chance []float64, total, top float64) float64 {
	return halved(top, func(h float64) float64 {
		out := 0.0
		for k, s := range sd {
			out += chance[k] / total * 0.5 * (math.Erfc((h-off[k])/(s*math.Sqrt2)) + math.Erfc((h+off[k])/(s*math.Sqrt2)))
		}
		return out
	})
}
