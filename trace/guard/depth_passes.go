package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/passdepth"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// When two passes differ in depth. Judgement.
const (
	// passDepths is how many depths two passes must have at the same places to be
	// compared, and passDepthLn by how much they must differ at least, in logs, so as to
	// be those of two receivers (as much as trade practice allows one).
	passDepths  = 3
	passDepthLn = 0.14
	// passDepthSigmas is by how many times the error of their median.
	passDepthSigmas = 4.0
)

// depthPasses finds passes whose depths differ by a factor where they meet. One of them
// reads wrong, and as much so where it went alone: the band of both holds the other's.
func (v *view) depthPasses() []Breach {
	pass := v.passOf()
	var out []Breach
	for part := range v.parts {
		var on []passdepth.Reading
		of := map[int][]int{}
		for _, i := range v.usedOn(part) {
			if r := &v.Readings[i]; trace.Known(r.DepthM) && r.DepthM > 0 && r.DepthM < shownM {
				on = append(on, passdepth.Reading{StationM: v.feet[i].stationM, DepthM: r.DepthM, Pass: pass[i]})
				of[pass[i]] = append(of[pass[i]], i)
			}
		}
		for _, p := range passdepth.Compare(on, v.spacing[part]/2) {
			if ln := v.depthsApart(p.Ln); ln > 0 {
				out = append(out, v.depthPassBreach(append(slices.Clone(of[p.Earlier]), of[p.Later]...), ln))
			}
		}
	}
	return out
}

// depthsApart is by how much depths of two passes differ, in logs, 0 where they agree or
// where that cannot be told.
func (v *view) depthsApart(ln []float64) float64 {
	if len(ln) < passDepths {
		return 0
	}
	rel := receiver.DepthNoiseRel
	if trace.Known(v.DepthRel) {
		rel = math.Min(math.Max(rel, v.DepthRel), receiver.MostDepthRel)
	}
	m := math.Abs(ranked.Median(ln))
	// The error of a median is 1.25 times that of a mean, of a difference of two depths.
	// Derived.
	if m < passDepthLn || m < passDepthSigmas*1.25*math.Sqrt2*rel/math.Sqrt(float64(len(ln))) {
		return 0
	}
	return m
}

func (v *view) depthPassBreach(both []int, ln float64) Breach {
	deepest := 0.0
	for _, i := range both {
		if d, _, ok := v.profileAt(i); ok {
			deepest = math.Max(deepest, d)
		}
	}
	from, to := v.spanOf(both)
	return Breach{Kind: Deep, FromM: from, ToM: to, DepthBandM: deepest * math.Expm1(ln), Remark: remark.DepthPassesApart{Times: math.Exp(ln)}}
}
