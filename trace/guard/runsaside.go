package guard

import (
	"math"

	"loamline.example/trace/guard/inarow"
	"loamline.example/trace/remark"
)

// A line is smoother than the walk where its readings scatter about it by
// overStated times what they are stated to err by, and do so run by run: the mean
// square of successive differences over the variance (von Neumann 1941, Annals of
// Mathematical Statistics 12:367) is by runsSigmas less than that of independent errors.
const overStated, runsSigmas = 1.75, 2.5

// runsAside finds parts whose readings lie to one side and then to the other, run by run, and
// farther than they are stated to err: either the accuracy is not what is stated and
// the error wanders, or the line bends where it is drawn straight.
func (v *view) runsAside() []Breach {
	var out []Breach
	for part := range v.parts {
		p := v.parts[part]
		ys, farthest, held := v.sidesOf(part)
		times, runs := inarow.Scatter(ys)
		if held || times < overStated || runs > -runsSigmas {
			continue
		}
		// None of them is lost by itself: a line drawn from reading to reading would have
		// their errors for its shape.
		out = append(out, Breach{Kind: Off, FromM: p.FromM(), ToM: p.ToM(), BandM: farthest,
			Remark: remark.RunsAside{FarthestM: farthest, TimesStated: times}})
	}
	return out
}

// sidesOf are the offsets of a part's readings in travel order over what each is stated
// to err by, how far off the farthest lies, and whether the band holds them all.
func (v *view) sidesOf(part int) (ys []float64, farthestM float64, held bool) {
	held = true
	for _, i := range v.walkedOn[part] {
		r, f := &v.Readings[i], v.feet[i]
		stated := v.rule.OwnM(r)
		if f.beyond || math.IsNaN(stated) {
			continue
		}
		ys = append(ys, f.offsetM/math.Hypot(stated, pinpointM(r)))
		farthestM, held = math.Max(farthestM, f.distM), held && f.distM <= f.bandM
	}
	return ys, farthestM, held
}
