package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/inarow"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Limits on offsets over their sigma. One reading in 150,000 lies beyond the first by
// chance. Judgement, on that ground; those on several in a row are [inarow]'s.
const (
	singleLimit = 4.5
	// trusted is how many times their stated accuracy the readings may scatter
	// before it is the line that is doubted and not the accuracy.
	trusted = 4.0
)

// ownM is a reading's own error across the line, one sigma: as told, or as
// neighbours scatter where that is more, and pinpointing.
func (v *view) ownM(i int) float64 {
	if v.owns == nil {
		v.owns = make([]float64, len(v.Readings))
		for i := range v.owns {
			v.owns[i] = v.ownError(i)
		}
	}
	return v.owns[i]
}

func (v *view) ownError(i int) float64 {
	r := &v.Readings[i]
	own := v.rule.OwnM(r)
	if math.IsNaN(own) {
		own = v.whiteM
	} else {
		own = math.Min(math.Max(own, v.whiteM), trusted*own)
	}
	return math.Hypot(own, pinpointM(r))
}

// pinpointM is how far off the line a reading is taken, one sigma: to hold a line to.
func pinpointM(r *trace.Reading) float64 {
	return receiver.PinpointReadM(r.DepthM, receiver.LeastMarkM)
}

// sigmas is a used reading's distance from the line over what its own error and
// the line's band allow.
func (v *view) sigmas(i int) float64 {
	f := v.feet[i]
	z := f.distM / math.Hypot(v.ownM(i), f.bandM/1.96)
	if f.offsetM < 0 {
		return -z
	}
	return z
}

// whiteScatter is how far used readings scatter from one to the next about the
// line, one sigma: from second differences of the offsets, which a line that is
// wrong over a length does not swell. The median of |second difference| is
// 0.6745 * sqrt(6) sigma for independent normal errors.
func (v *view) whiteScatter() float64 {
	used := v.byPlace
	var d []float64
	for k := 2; k < len(used); k++ {
		a, b, c := v.feet[used[k-2]], v.feet[used[k-1]], v.feet[used[k]]
		if a.part == c.part {
			d = append(d, math.Abs(a.offsetM-2*b.offsetM+c.offsetM))
		}
	}
	if len(d) == 0 {
		return receiver.LeastMarkM
	}
	// A second difference has six times the variance of one error. Derived.
	return math.Max(receiver.LeastMarkM, ranked.NormalSigma*ranked.Median(d)/math.Sqrt(6))
}

// residuals finds used readings that the line and its band do not hold.
func (v *view) residuals() []Breach {
	used := v.byPlace
	z := make([]float64, len(used))
	bad := make([]bool, len(used))
	beyond := 0
	for k, i := range used {
		z[k] = v.sigmas(i)
		bad[k] = math.Abs(z[k]) > singleLimit
		if math.Abs(z[k]) > 1.96 {
			beyond++
		}
	}
	inarow.Mark(z, bad, func(k int) bool { return v.feet[used[k]].part == v.feet[used[k-inarow.Length+1]].part })
	v.markAside(used, bad)
	// One in twenty, and four sigma of a binomial count of them (0.05 × 0.95 = 0.0475).
	// Derived; that it is four is judgement.
	if n := float64(len(used)); float64(beyond) > 0.05*n+4*math.Sqrt(0.0475*n)+1 {
		for k := range z {
			bad[k] = bad[k] || math.Abs(z[k]) > 1.96
		}
	}
	var out []Breach
	for _, g := range v.groups(used, bad) {
		worst := 0.0
		for _, i := range g {
			worst = math.Max(worst, v.feet[i].distM)
		}
		from, to := v.spanOf(g)
		out = append(out, Breach{Kind: Off, Readings: len(g), FromM: from, ToM: to, BandM: worst,
			Remark: remark.ReadingsOffLine{N: len(g), FarthestM: worst}})
	}
	for _, b := range v.runsAside() {
		if !slices.ContainsFunc(out, func(o Breach) bool { return o.FromM < b.ToM && o.ToM > b.FromM && o.BandM >= b.BandM }) {
			out = append(out, b)
		}
	}
	return out
}

// joinM is how far apart two breaches of one kind may lie to be told as one. Judgement.
const joinM = 5.0

// groups gathers the marked readings, in the order given, into those that lie
// together on one part.
func (v *view) groups(sorted []int, bad []bool) [][]int {
	var out [][]int
	for k, i := range sorted {
		if !bad[k] {
			continue
		}
		if n := len(out) - 1; n >= 0 {
			last := v.feet[out[n][len(out[n])-1]]
			if last.part == v.feet[i].part && v.feet[i].stationM-last.stationM <= math.Max(joinM, 3*v.spacing[last.part]) {
				out[n] = append(out[n], i)
				continue
			}
		}
		out = append(out, []int{i})
	}
	return out
}

// spanOf is the stretch that a group of readings takes up, out to half a spacing.
func (v *view) spanOf(group []int) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	part := v.feet[group[0]].part
	for _, i := range group {
		from, to = math.Min(from, v.feet[i].stationM), math.Max(to, v.feet[i].stationM)
	}
	pad := v.spacing[part] / 2
	return math.Max(v.parts[part].FromM(), from-pad), math.Min(v.parts[part].ToM(), to+pad)
}
