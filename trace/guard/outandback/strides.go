package outandback

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// What tells that places were leapt to. Judgement.
const (
	// A stride is far from farTimes of those that all but usualShare of a walk's are within, and
	// from leastFarM.
	farTimes, usualShare, leastFarM = 3.0, 0.1, 2.0
	// mostLeapt places may lie between two far strides, which are alike but for likeStrides of the
	// longer; more lie on a course of their own.
	mostLeapt, likeStrides = 14, 0.5
	// acrossShare of a leap goes across the course before it, or across the one behind it: a walk
	// to a line's end and back goes along it.
	acrossShare = 0.5
)

// Leaps lists the runs of places that a walk leaps to and back from: by strides as it takes no
// others, which cancel out but for the way that it goes on meanwhile. Whatever positions are
// stated to be off, from one to the next they hardly leap so.
func Leaps(at []geo.XY) []Excursion {
	strides, longs := make([]geo.XY, max(0, len(at)-1)), make([]float64, max(0, len(at)-1))
	for k := range strides {
		strides[k] = at[k+1].Sub(at[k])
		longs[k] = strides[k].Norm()
	}
	if len(longs) == 0 {
		return nil
	}
	sorted := slices.Sorted(slices.Values(longs))
	usualM := sorted[int((1-usualShare)*float64(len(sorted)-1))]
	farM := max(leastFarM, farTimes*usualM)
	var out []Excursion
	for k := 0; k < len(strides); k++ {
		if longs[k] < farM {
			continue
		}
		for m := k + 2; m < len(strides) && m <= k+mostLeapt; m++ {
			if longs[m] < farM {
				continue
			}
			off, longer := strides[k].Sub(strides[m]).Scale(0.5), max(longs[k], longs[m])
			if strides[k].Add(strides[m]).Norm() <= likeStrides*longer &&
				(acrossFrom(at[:k+1], off, usualM) || acrossFrom(reversed(at[m+1:]), off, usualM)) {
				out = append(out, Excursion{From: k + 1, To: m + 1, AsideM: off.Norm()})
				k = m
			}
			break // what lies behind another far stride was not gone to by this one
		}
	}
	return out
}

// acrossFrom reports whether an offset goes across the course that a walk comes by: from the
// last place that is more than a stride from where it ends.
func acrossFrom(walk []geo.XY, off geo.XY, strideM float64) bool {
	end := walk[len(walk)-1]
	for i := len(walk) - 2; i >= 0; i-- {
		if way := end.Sub(walk[i]); way.Norm() > strideM {
			return math.Abs(way.Cross(off)) >= acrossShare*way.Norm()*off.Norm()
		}
	}
	return false
}

func reversed(at []geo.XY) []geo.XY {
	out := slices.Clone(at)
	slices.Reverse(out)
	return out
}
