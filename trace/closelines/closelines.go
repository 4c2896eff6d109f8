// Package closelines finds where traced lines of a sheet run so close to each other, or to a
// line on record that was not traced, that no machine has room between them.
package closelines

import (
	"math"
	"slices"
	"sort"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Pair is a stretch on which the caution zones of two traced lines touch: no machine
// has room between them.
type Pair struct {
	Line, Other string
	FromM, ToM  float64 // on Line
	LeastM      float64 // between the two marks
	AtM         float64 // where that is, on Line
	OnRecord    bool    // Other is drawn by a record alone, and its zone is that of the rule
}

// closeSpareM is how far beside each other two zones may end and still leave no room
// for a bucket (common practice, no source).
const closeSpareM = 0.3

// Find finds where traced lines run so close that their zones touch. Each pair
// is told once, under the line that comes first.
func Find(s *trace.Sheet) []Pair {
	var boxes rtree.RTreeGN[float64, int32]
	var out []Pair
	for i := len(s.Lines) - 1; i >= 0; i-- { // from behind: the index has what comes after
		l := &s.Lines[i]
		if l.Centerline == nil || len(l.Reach) == 0 {
			continue
		}
		lo, hi := zoneBox(l)
		var near []int32
		boxes.Search(lo, hi, func(_, _ [2]float64, k int32) bool { near = append(near, k); return true })
		boxes.Insert(lo, hi, int32(i))
		slices.Sort(near)
		var found []Pair
		for _, k := range near {
			for _, c := range closeStretches(l, &s.Lines[k]) {
				if !aboutCrossing(l, c) {
					found = append(found, c)
				}
			}
		}
		out = append(found, out...)
	}
	return out
}

// crossedOverM is how long a stretch may be and be told by the crossing on it alone.
// Judgement.
const crossedOverM = 30.0

// aboutCrossing reports whether two lines are close only because they cross there,
// which is told as a crossing.
func aboutCrossing(l *trace.Line, c Pair) bool {
	return c.ToM-c.FromM < crossedOverM && slices.ContainsFunc(l.Findings, func(f trace.Finding) bool {
		x, ok := f.(finding.Crossing)
		return ok && x.Other == c.Other && x.SeparationM == 0 && x.StationM >= c.FromM-crossedOverM && x.StationM <= c.ToM+crossedOverM
	})
}

func closeStretches(a, b *trace.Line) []Pair {
	reachA, reachB := widths(a.Reach), widths(b.Reach)
	return alongside(a, b.Centerline.Polyline(), Pair{Line: a.Setup.Name, Other: b.Setup.Name}, func(stationM float64, on geo.Foot) bool {
		return math.Abs(on.OffsetM) <= reachA.at(stationM)+reachB.at(on.StationM)+closeSpareM
	})
}

// alongside finds the stretches of a line on which a path is close to it.
func alongside(a *trace.Line, path geo.Polyline, as Pair, isClose func(stationM float64, on geo.Foot) bool) []Pair {
	index := path.Index()
	var out []Pair
	for _, p := range a.Centerline.Parts {
		open := false
		for _, v := range p.Vertices {
			f := index.Nearest(v.Pos)
			d := math.Abs(f.OffsetM)
			if !isClose(v.StationM, f) {
				open = false
				continue
			}
			if !open {
				as.FromM, as.ToM, as.LeastM, as.AtM = v.StationM, v.StationM, d, v.StationM
				out, open = append(out, as), true
			}
			c := &out[len(out)-1]
			c.ToM = v.StationM
			if d < c.LeastM {
				c.LeastM, c.AtM = d, v.StationM
			}
		}
	}
	return out
}

// widths looks up how far a zone reaches to its wider side.
type widths []trace.ZoneReach

func (w widths) at(stationM float64) float64 {
	i := sort.Search(len(w), func(i int) bool { return w[i].StationM >= stationM })
	out := 0.0
	for _, r := range w[max(0, i-1):min(len(w), i+1)] {
		out = max(out, r.LeftM, r.RightM)
	}
	return out
}

// zoneBox is the bounding box of a line with its zone and half of closeSpareM.
func zoneBox(l *trace.Line) (lo, hi [2]float64) {
	far := closeSpareM / 2
	for _, r := range l.Reach {
		far = max(far, r.LeftM+closeSpareM/2, r.RightM+closeSpareM/2)
	}
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			lo = [2]float64{math.Min(lo[0], v.Pos.X-far), math.Min(lo[1], v.Pos.Y-far)}
			hi = [2]float64{math.Max(hi[0], v.Pos.X+far), math.Max(hi[1], v.Pos.Y+far)}
		}
	}
	return lo, hi
}
