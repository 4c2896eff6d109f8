package sidestep

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// What a walk leapt to lies farther aside than a step, by farSigmas standard errors, and by
// farAcross of the stride over to it, which is farStrides times each of those beside it:
// what is laid that far to the side is walked, and over a long gap a line may be laid to
// another side by itself. Judgement.
const farSigmas, farAcross, farStrides = 6, 0.5, 2.0

// Leaps lists the strides of a walk that lead farther aside than a step, where no single bend
// joins the runs before and behind; ownM is the error of a place. A stride back to where the
// walk was before is none, nor one that sets out for where it comes back from: a branch that is
// read one way alone is walked so.
func Leaps(at []geo.XY, ownM func(k int) float64) (out []Step) {
	for k := leastMet; k+leastMet <= len(at); k++ {
		over, a, b := at[k].Sub(at[k-1]), at[k-1].Sub(at[k-2]), at[k+1].Sub(at[k])
		if over.Norm() < max(MostM, farStrides*a.Norm(), farStrides*b.Norm()) || a.Norm() == 0 || b.Norm() == 0 {
			continue
		}
		near := func(p geo.XY) func(geo.XY) bool {
			return func(q geo.XY) bool { return p.Dist(q) < farStrides*max(a.Norm(), b.Norm()) }
		}
		if slices.ContainsFunc(at[:k-1], near(at[k])) || slices.ContainsFunc(at[k+1:], near(at[k-1])) {
			continue
		}
		before := slices.Clone(at[max(0, k-mostMet):k])
		slices.Reverse(before)
		miss, ok := Meet(before, at[k:min(len(at), k+mostMet)], math.Max(ownM(k-1), ownM(k)))
		if ok && miss.AsideM >= max(MostM, farSigmas*miss.SigmaM, farAcross*over.Norm()) {
			dir := a.Scale(1 / a.Norm()).Add(b.Scale(1 / b.Norm()))
			out = append(out, Step{k - 1, k, math.Copysign(miss.AsideM, -dir.Cross(over))})
		}
	}
	return out
}
