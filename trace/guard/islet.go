package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// detour is how many times longer the way over an islet is than the straight one past it,
// and leastAsideM how far aside it lies at least (judgement).
const (
	detour      = 2.5
	leastAsideM = 2.0
)

// islets finds short stretches between two gaps that lie well aside of the way from the
// stretch before to the stretch behind: a fix that was wrong for a while leaves such, and
// a line that was read at its bends alone hardly does.
func (v *view) islets() []Breach {
	var out []Breach
	for k := 1; k+1 < len(v.parts); k++ {
		before, p, after := v.parts[k-1], v.parts[k], v.parts[k+1]
		a, b := before.line.Points[len(before.line.Points)-1], after.line.Points[0]
		first, last := p.line.Points[0], p.line.Points[len(p.line.Points)-1]
		there, back, long := a.Dist(first), last.Dist(b), p.line.Length()
		if long >= math.Min(there, back) || there+long+back < detour*a.Dist(b) {
			continue
		}
		past := geo.NewPolyline([]geo.XY{a, b})
		asideM, readings, ownM := math.Inf(1), 0, 0.0
		for _, i := range v.usedOn(k) {
			at := v.Readings[i].Pos
			asideM, ownM = math.Min(asideM, past.Nearest(at).At.Dist(at)), math.Max(ownM, v.ownM(i))
			readings++
		}
		if readings == 0 || asideM < leastAsideM || asideM < leastOwnOut*ownM {
			continue
		}
		out = append(out, Breach{Kind: Off, FromM: p.FromM(), ToM: p.ToM(), BandM: asideM + long,
			Remark: remark.AsideOfTheWalk{Readings: readings, AsideM: asideM}})
	}
	return out
}
