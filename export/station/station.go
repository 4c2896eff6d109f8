package station

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// At returns what is known of a part at a station on it: values between
// two vertices are interpolated, and bands are the wider of both.
func At(p trace.Part, stationM float64) trace.Vertex {
	vs := p.Vertices
	i := sort.Search(len(vs), func(i int) bool { return vs[i].StationM >= stationM })
	switch {
	case i == 0:
		return vs[0]
	case i == len(vs):
		return vs[len(vs)-1]
	case vs[i].StationM == stationM:
		return vs[i]
	}
	a, b := vs[i-1], vs[i]
	v := a.Lerp(b, (stationM-a.StationM)/(b.StationM-a.StationM))
	v.StationM = stationM
	v.Depth95M = math.Max(a.Depth95M, b.Depth95M)
	v.Horizontal95M = math.Max(a.Horizontal95M, b.Horizontal95M)
	v.Common95M = math.Max(a.Common95M, b.Common95M)
	return v
}

// RoundSteps are the distances between stations that people count in.
func RoundSteps(u geo.Units) []float64 {
	metres := []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000}
	if u != geo.US {
		return metres
	}
	var out []float64
	for _, ft := range []float64{5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000} {
		out = append(out, ft*geo.FootM)
	}
	return out
}

// StepM is the smallest round distance that gives at most n stations.
func StepM(u geo.Units, lengthM float64, n int) float64 {
	steps := RoundSteps(u)
	for _, s := range steps {
		if lengthM/s <= float64(n) {
			return s
		}
	}
	return steps[len(steps)-1]
}

// Round returns the multiples of step on a part, with its two ends.
// A multiple closer than a tenth of the step to an end is left out for it.
func Round(p trace.Part, stepM float64) []float64 {
	from, to := p.FromM(), p.ToM()
	out := []float64{from}
	for k := math.Floor(from/stepM) + 1; ; k++ {
		s := k * stepM
		if s > to-stepM/10 {
			break
		}
		if s > from+stepM/10 {
			out = append(out, s)
		}
	}
	return append(out, to)
}
