package guard

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/guard/inarow"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// What depths tell by themselves. Judgement.
const (
	// changeRel is more than neighbouring depths of a level line differ by.
	changeRel = 0.25
	// agreeRel is how far neighbouring depths may differ and still agree, agreeSpacings how
	// many spacings apart they may lie.
	agreeRel, agreeSpacings = 0.25, 2.5
	// shownM is past the depths that a group of dropped ones can be a line at.
	shownM = 9.0
	// reportedDepthRel is how far outside the depths read about it one is drawn that is
	// worth a word.
	reportedDepthRel = 0.1
	// reachM is how far along the line a depth is told by the readings near it.
	reachM = 4.0
)

// deep lists, by part and station, the used readings that show a depth which is
// kept (dropped false) or was dropped as a spike.
func (v *view) deep(dropped bool) []int {
	var out []int
	for _, i := range v.byPlace {
		r := &v.Readings[i]
		if trace.Known(r.DepthM) && r.DepthM > 0 && r.DepthM < shownM && r.DepthDropped == dropped {
			out = append(out, i)
		}
	}
	return out
}

// profileAt is the drawn depth at a reading's place and its band; ok is false
// where none is drawn.
func (v *view) profileAt(i int) (depth, band float64, ok bool) {
	f := v.feet[i]
	vs := v.parts[f.part].Vertices
	depth = lerpAt(vs, f.stationM, func(x *trace.Vertex) float64 { return x.DepthM })
	return depth, lerpAt(vs, f.stationM, func(x *trace.Vertex) float64 { return x.Depth95M }), depth > 0
}

// depths finds depths that the profile and its band do not hold.
func (v *view) depths() []Breach {
	out := v.keptDepths()
	out = append(out, v.twoKinds()...)
	out = append(out, v.droppedDepths()...)
	out = append(out, v.droppedInARow(out)...)
	out = append(out, v.loneDepths(out)...)
	out = append(out, v.depthBlocks()...)
	out = append(out, v.depthPasses()...)
	out = append(out, v.againstAntennas()...)
	out = append(out, v.scattered()...)
	out = append(out, v.depthsBetween()...)
	return append(out, v.outOfRange()...)
}

func (v *view) keptDepths() []Breach {
	kept := v.deep(false)
	z, bad := make([]float64, len(kept)), make([]bool, len(kept))
	for k, i := range kept {
		z[k] = v.depthOff(i)
	}
	inarow.Mark(z, bad, func(k int) bool { return v.feet[kept[k]].part == v.feet[kept[k-inarow.Length+1]].part })
	var out []Breach
	for _, g := range v.groups(kept, bad) {
		out = append(out, v.depthBreach(g, func(n int, farthestM float64) trace.Remark {
			return remark.DepthsOffProfile{N: n, FarthestM: farthestM}
		}))
	}
	return out
}

// depthOff is how far a reading's depth lies from the profile, in units of its own
// error and the band's; 0 where no profile is drawn.
func (v *view) depthOff(i int) float64 {
	d, band, ok := v.profileAt(i)
	if !ok {
		return 0
	}
	return (v.depthOf(i) - d) / math.Hypot(v.ownDepth(i, d), band/1.96)
}

// ownDepth is a depth's own error, one sigma, where another is drawn.
func (v *view) ownDepth(i int, drawnM float64) float64 {
	rel := receiver.DepthNoiseRel
	if trace.Known(v.DepthRel) {
		rel = math.Min(math.Max(rel, v.DepthRel), receiver.MostDepthRel)
	}
	return math.Hypot(rel*math.Max(drawnM, v.depthOf(i)), receiver.ShownDepthM)
}

// droppedDepths finds dropped depths that agree with their neighbours: one is a
// spike, two are not.
func (v *view) droppedDepths() []Breach {
	all := v.deep(true)
	bad := v.haveNeighbours(all, agreeSpacings, func(k int) bool {
		a, b := &v.Readings[all[k-1]], &v.Readings[all[k]]
		return math.Abs(a.DepthM-b.DepthM) < agreeRel*math.Min(a.DepthM, b.DepthM)
	})
	for k, i := range all {
		if d, band, ok := v.profileAt(i); !ok || math.Abs(v.depthOf(i)-d) <= band {
			bad[k] = false
		}
	}
	return v.alongGroups(all, bad, func(n int, farthestM float64) trace.Remark {
		return remark.DepthsAgainstProfile{N: n, FarthestM: farthestM}
	})
}

// depthsBetween asks the band to hold both of two neighbouring depths, where the
// line changes its depth somewhere between them, and each that is used by itself, where a
// profile does not follow a line that goes down or up within a stride.
func (v *view) depthsBetween() []Breach {
	var out []Breach
	kept := v.deep(false)
	for k, i := range kept {
		d, band, ok := v.profileAt(i)
		if off := math.Abs(v.depthOf(i) - d); ok && off > band+1.96*v.ownDepth(i, d) && off > changeRel*math.Min(d, v.depthOf(i)) {
			from, to := v.spanOf(kept[k : k+1])
			out = append(out, Breach{Kind: Between, FromM: from, ToM: to, DepthBandM: off})
		}
	}
	for k := 1; k < len(kept); k++ {
		a, b := v.feet[kept[k-1]], v.feet[kept[k]]
		da, db := v.Readings[kept[k-1]].DepthM, v.Readings[kept[k]].DepthM
		if a.part != b.part || math.Abs(da-db) < math.Max(changeRel*math.Min(da, db), 4*receiver.ShownDepthM) {
			continue
		}
		out = append(out, Breach{Kind: Between, FromM: a.stationM, ToM: b.stationM, DepthBandM: math.Abs(da - db)})
	}
	return out
}

// depthBreach is the breach by a group of depths, with the remark on so many of them.
func (v *view) depthBreach(group []int, on func(n int, farthestM float64) trace.Remark) Breach {
	worst := 0.0
	for _, i := range group {
		d, _, _ := v.profileAt(i)
		worst = math.Max(worst, math.Abs(v.depthOf(i)-d))
	}
	from, to := v.spanOf(group)
	return Breach{Kind: Deep, FromM: from, ToM: to, DepthBandM: worst, Remark: on(len(group), worst)}
}

// outOfRange finds stretches where the profile is drawn outside the range of the
// depths read near it.
func (v *view) outOfRange() []Breach {
	var out []Breach
	near := v.deepEnds()
	for k := range v.parts {
		own := near[k]
		lo := 0
		for _, x := range v.parts[k].Vertices {
			reach := math.Max(reachM, 2*v.spacing[k])
			for lo < len(own) && own[lo].stationM < x.StationM-reach {
				lo++
			}
			least, most := math.Inf(1), 0.0
			for m := lo; m < len(own) && own[m].stationM <= x.StationM+reach; m++ {
				least, most = math.Min(least, own[m].depthM), math.Max(most, own[m].depthM)
			}
			off := math.Max(least-x.DepthM, x.DepthM-most)
			if !trace.Known(x.DepthM) || most == 0 || off <= math.Max(reportedDepthRel*x.DepthM, 2*receiver.ShownDepthM) {
				continue
			}
			if n := len(out) - 1; n >= 0 && out[n].ToM >= x.StationM-reach && out[n].FromM >= v.parts[k].FromM() {
				out[n].ToM, out[n].DepthBandM = x.StationM, math.Max(out[n].DepthBandM, off)
				continue
			}
			out = append(out, Breach{Kind: Between, FromM: x.StationM, ToM: x.StationM, DepthBandM: off,
				Remark: remark.ProfileOutOfRange{StationM: x.StationM, DrawnM: x.DepthM, LeastM: least, MostM: most}})
		}
	}
	return out
}

type depthAt struct{ stationM, depthM float64 }

// deepEnds lists the kept depths, exposed places included, by part and station.
func (v *view) deepEnds() [][]depthAt {
	out := make([][]depthAt, len(v.parts))
	for _, i := range v.sorted(func(r *trace.Reading) bool {
		return (r.Status == trace.StatusUsed || r.Status == trace.StatusExposed) && r.DepthM > 0 && !r.DepthDropped
	}) {
		f := v.feet[i]
		out[f.part] = append(out[f.part], depthAt{f.stationM, v.depthOf(i)})
	}
	return out
}

// depthOf is a reading's depth as the exposures of the line say that it is to be
// taken.
func (v *view) depthOf(i int) float64 {
	r := &v.Readings[i]
	if r.Exposed || v.rule.DepthScale <= 0 {
		return r.DepthM
	}
	return r.DepthM / v.rule.DepthScale
}
