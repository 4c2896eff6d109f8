package bleed

import (
	"math"
	"sync"

	"loamline.example/geo"
)

// An elbow that the fitted course rounds, or puts some metres off, leaves the
// signature of a square bend in depth and signal: it is an explanation wherever the
// course turns about there.

// elbowSD is the part of a square bend that the course may leave over, one sigma:
// more where a fitting is drawn as a sweep, less than nothing where it is drawn
// beside its place. Judgement.
const elbowSD = 0.5

// elbowReach is how far, in depths, a square bend is reckoned with; elbowStep is
// the step of its table, in depths. Judgement: longer and finer ones
// cost time.
const (
	elbowReach = 6
	elbowStep  = 0.25
)

// elbowTable is what a square bend does to log depth and log signal, by distance
// from the corner in depths, with the antennas half a depth apart and
// straight legs of 60 depths: derived by the law of Biot and Savart.
var elbowTable = sync.OnceValue(func() (t [int(elbowReach/elbowStep) + 1]bendEffect) {
	const legM = 60 // depths: judgement
	path := geo.NewPolyline([]geo.XY{{X: -legM}, {}, {Y: legM}})
	level := profile{stationM: []float64{0}, depthM: []float64{1}}
	for i := range t {
		t[i] = bendAt(path, level, legM-elbowStep*float64(i), 0.5)
	}
	return t
})

// elbowAt is the effect at a distance from the corner, in depths.
func elbowAt(t float64) bendEffect {
	table := elbowTable()
	x := math.Abs(t) / elbowStep
	i := int(x)
	if i+1 >= len(table) {
		return bendEffect{}
	}
	a, b, w := table[i], table[i+1], x-float64(i)
	return bendEffect{a.lnD + w*(b.lnD-a.lnD), a.lnS + w*(b.lnS-a.lnS), a.nullM + w*(b.nullM-a.nullM)}
}

// elbowShapes are the columns of elbows at readings about which the course turns.
func (c *columns) elbowShapes(lo, n int) []shape {
	var out []shape
	for j := 0; j < n; j += 1 + n/mostPlaces {
		if !c.bend.about[lo+j] {
			continue
		}
		f := shape{sd: elbowSD, from: -1}
		at, d := c.rd[lo+j].StationM, c.depth[lo+j]
		for k := range n {
			t := (c.rd[lo+k].StationM - at) / d
			if math.Abs(t) > elbowReach {
				continue
			}
			if f.from < 0 {
				f.from = k
			}
			e := elbowAt(t)
			f.d, f.s = append(f.d, e.lnD), append(f.s, e.lnS)
		}
		out = append(out, f)
	}
	return out
}
