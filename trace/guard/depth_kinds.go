package guard

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/guard/inarow"
	"loamline.example/trace/remark"
)

// When depths are of two kinds. Judgement.
const (
	// alikeSigma is from where a depth is far enough from the profile that another
	// one like it nearby makes two kinds of depth of it.
	alikeSigma = 3
	// alikeRatio is how far two such depths may differ.
	alikeRatio = 1.5
	// alikeSpacings is how far apart they may lie: where two passes or two legs are
	// read alternately, the next of a kind is two spacings on.
	alikeSpacings = 4
)

// twoKinds finds depths far from the profile, kept or dropped, that have a fellow
// nearby on the same side of it: two passes over one place that read different
// depths, or the two legs of a line that comes back beside itself. Readings of the
// other kind between them do not matter, so that no run need be all wrong.
func (v *view) twoKinds() []Breach {
	var all []int
	var z []float64
	for _, i := range v.byPlace {
		r := &v.Readings[i]
		if !trace.Known(r.DepthM) || r.DepthM <= 0 || r.DepthM >= shownM {
			continue
		}
		if off := v.depthOff(i); math.Abs(off) >= alikeSigma {
			all, z = append(all, i), append(z, off)
		}
	}
	alike := v.haveNeighbours(all, alikeSpacings, func(k int) bool {
		da, db := v.depthOf(all[k-1]), v.depthOf(all[k])
		dropped := v.Readings[all[k-1]].DepthDropped && v.Readings[all[k]].DepthDropped // for droppedDepths
		return !dropped && z[k-1]*z[k] > 0 && math.Max(da, db) < alikeRatio*math.Min(da, db)
	})
	return v.alongGroups(all, alike, func(n int, farthestM float64) trace.Remark { return remark.TwoDepths{N: n, FarthestM: farthestM} })
}

// haveNeighbours marks those of some readings, in the order of the line, that have the next or
// the one before within so many spacings of them and alike; alike(k) compares the k-th
// with the one before.
func (v *view) haveNeighbours(all []int, spacings float64, alike func(k int) bool) []bool {
	out := make([]bool, len(all))
	for k := 1; k < len(all); k++ {
		a, b := v.feet[all[k-1]], v.feet[all[k]]
		if a.part == b.part && b.stationM-a.stationM < spacings*v.spacing[a.part] && alike(k) {
			out[k-1], out[k] = true, true
		}
	}
	return out
}

// alongGroups is a breach for each group of the depths that are marked, all along where
// they are many.
func (v *view) alongGroups(all []int, marked []bool, on func(n int, farthestM float64) trace.Remark) []Breach {
	var out []Breach
	groups := v.groups(all, marked)
	for _, g := range groups {
		out = append(out, v.depthBreach(g, on))
	}
	v.allAlong(groups, out)
	return out
}

// manyShare is the share of a part's depths from which those that the profile does
// not hold are no matter of a stretch: one who sweeps across the line reads it too
// deep at either side all along. Judgement.
const manyShare = 0.2

// allAlong lets breaches reach over all of their part where the depths that its
// profile does not hold are many.
func (v *view) allAlong(groups [][]int, breaches []Breach) {
	read, off := make([]int, len(v.parts)), make([]int, len(v.parts))
	for _, i := range v.byPlace {
		if r := &v.Readings[i]; trace.Known(r.DepthM) && r.DepthM > 0 {
			part := v.feet[i].part
			if read[part]++; math.Abs(v.depthOff(i)) >= alikeSigma {
				off[part]++
			}
		}
	}
	for k, g := range groups {
		if part := v.feet[g[0]].part; float64(off[part]) >= manyShare*float64(read[part]) && off[part] > inarow.Length {
			breaches[k].FromM, breaches[k].ToM = v.parts[part].FromM(), v.parts[part].ToM()
		}
	}
}
