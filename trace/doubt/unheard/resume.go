package unheard

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
)

// Where the line was found again it is perhaps another one: its course runs on beside the
// one before, and it lies at another depth. All judgement.
const (
	// courseOf is how many readings on either side tell a course, leastCourse at least.
	courseOf, leastCourse = 6, 3
	// parallelRad is how much two courses turn against each other at most that run beside
	// each other: one that bends where nothing was heard is its own.
	parallelRad = 15 * math.Pi / 180
	// leastAsideM is how far aside the second one lies at least, and asideSigmas by how
	// many of the errors of its readings.
	leastAsideM, asideSigmas = 0.5, 4.0
	// otherDepth is by which part the depths differ at least.
	otherDepth = 0.08
)

// asideM is how far to the right of the course before a row of unheard readings the one
// behind it runs, in metres; 0 where it goes on, turns, or is as deep as before.
func asideM(rs []*trace.Reading, found run, ownM func(*trace.Reading) float64) float64 {
	before, behind := rs[max(0, found.from-courseOf):found.from], rs[found.to:min(len(rs), found.to+courseOf)]
	if len(before) < leastCourse || len(behind) < leastCourse {
		return 0
	}
	a, z := before[0].Pos, before[len(before)-1].Pos
	was, is := z.Sub(a), behind[len(behind)-1].Pos.Sub(behind[0].Pos)
	if was.Norm() == 0 || math.Abs(math.Atan2(was.Cross(is), was.Dot(is))) > parallelRad {
		return 0
	}
	was = was.Scale(1 / was.Norm())
	right := geo.XY{X: was.Y, Y: -was.X}
	var aside, own, scatter []float64
	for _, r := range before {
		scatter = append(scatter, math.Abs(right.Dot(r.Pos.Sub(a))))
	}
	for _, r := range behind {
		aside = append(aside, right.Dot(r.Pos.Sub(a)))
		own = append(own, ownM(r))
	}
	off, sigma := stat.Mean(aside, nil), math.Max(slices.Max(own), slices.Max(scatter)/2)
	if math.IsNaN(sigma) || math.Abs(off) < math.Max(leastAsideM, asideSigmas*sigma) {
		return 0
	}
	if d, e := middleDepthM(before), middleDepthM(behind); math.Abs(math.Log(e/d)) < otherDepth {
		return 0
	}
	return off
}

// middleDepthM is the middle of the depths that were read; NaN where there is none.
func middleDepthM(rs []*trace.Reading) float64 {
	var of []float64
	for _, r := range rs {
		if shown := values[0](r); shown > 0 && shown != leftOut {
			of = append(of, r.DepthM)
		}
	}
	if len(of) == 0 {
		return trace.Unknown
	}
	return ranked.Median(of)
}
