package fit

import (
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A branch is walked out and back under the line's own name, and read once: on the way
// back nothing is new. That way has readings, those of the way out, and is no gap; what
// comes next sets out from where the branch does.

// How far the way back may lie from the way out, in metres, whatever the positions'
// error, at most how many usual steps what comes next begins from the line, and within
// how many lengths of the way back along the line before it. Judgement.
const (
	retracedLeastM = 0.3
	retracedMostM  = 1.5
	joinSteps      = 1.5
	wayLengths     = 1.5
)

// branching is where a part meets the line that another draws: a part that begins there,
// or one that ends there.
type branching struct {
	there    bool
	stationM float64 // on that line
	ends     bool    // the part before the way ends there; else the one after it begins
}

// join finds where a way without a reading, between two stations, leads back along the
// line before it to where what comes after sets out, or ahead along the line after it.
// sigmaM is the usual error of a position.
func (t *traced) join(fromM, toM, sigmaM float64) branching {
	line, farM := t.sh.line, wayLengths*(toM-fromM)+joinSteps*t.w.stepM
	way := make([]geo.XY, 0, 2+max(0, int(toM-fromM)))
	for s := fromM; s < toM; s++ {
		way = append(way, line.At(s))
	}
	way = append(way, line.At(toM))
	back := math.Max(0, fromM-farM)
	if at, ok := t.retraced(line.Slice(back, fromM), way, sigmaM); ok {
		return branching{there: true, stationM: back + at}
	}
	after := line.Slice(toM, math.Min(line.Length(), toM+farM))
	slices.Reverse(after)
	slices.Reverse(way)
	if at, ok := t.retraced(after, way, sigmaM); ok {
		return branching{there: true, stationM: toM + geo.NewPolyline(after).Length() - at, ends: true}
	}
	return branching{}
}

// retraced tells at which station of a line the way from its end meets it, having led
// back along it all the way.
func (t *traced) retraced(drawn, way []geo.XY, sigmaM float64) (atM float64, ok bool) {
	line, reach := geo.NewPolyline(drawn), joinSteps*t.w.stepM
	goal := way[len(way)-1]
	end := line.Nearest(goal)
	besideM := math.Abs(end.OffsetM)
	if line.Length() < reach || besideM > reach || line.Length()-end.StationM < reach {
		return 0, false
	}
	least := clamp(sigmaM, retracedLeastM, retracedMostM)
	last := math.Inf(1)
	for i, p := range way {
		if p.Dist(goal) < reach {
			continue
		}
		f := line.Nearest(p)
		off := least + besideM*float64(i)/float64(len(way)-1) // a straight way leads to beside the line
		if math.Abs(f.OffsetM) > off || f.StationM > last+off {
			return 0, false
		}
		last = f.StationM
	}
	return end.StationM, true
}

// usualSigma is the median error of the positions in use.
func (t *traced) usualSigma() float64 {
	s := make([]float64, 0, len(t.w.obs))
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.fate == Used && !o.exposed {
			s = append(s, o.sigmaM)
		}
	}
	return median(s)
}

// waysBetween are the legs between parts that meet, of a line that goes on by one leg
// at either end.
func waysBetween(sizes []int, st []stretch) []way {
	var out []way
	n := 0
	for i, x := range st {
		if x.branch.there && n > 0 {
			out = append(out, way{leg: n, begins: x.branch.ends})
		}
		n += sizes[i]
	}
	return out
}

// branchings are the vertices where parts meet the line of others, one a stretch;
// stations are still those of the shape's line.
func branchings(vs []trace.Vertex, st []stretch) []trace.Vertex {
	out := make([]trace.Vertex, len(st))
	for i, x := range st {
		if x.branch.there {
			out[i] = vertexAt(vs, x.branch.stationM)
		}
	}
	return out
}

// branched adds each of these to the part that begins or ends there, in stations of the
// result.
func branched(vs []trace.Vertex, sizes []int, st []stretch, at []trace.Vertex) []trace.Vertex {
	out := make([]trace.Vertex, 0, len(vs)+len(st))
	for i := range st {
		part := vs[:sizes[i]]
		vs = vs[sizes[i]:]
		if len(part) == 0 {
			continue
		}
		if j := st[i].branch; j.there && !j.ends {
			out = append(out, beside(at[i], part[0], -1))
			sizes[i]++
		}
		out = append(out, part...)
		if i+1 < len(st) && st[i+1].branch.there && st[i+1].branch.ends {
			out = append(out, beside(at[i+1], part[len(part)-1], 1))
			sizes[i]++
		}
	}
	return out
}

// beside is the place where parts meet, v, as the vertex of one of them next to its last
// or first.
func beside(v, next trace.Vertex, way float64) trace.Vertex {
	v.StationM, v.Corner = next.StationM+way*v.Pos.Dist(next.Pos), false
	v.Horizontal95M, v.Common95M = math.Max(v.Horizontal95M, next.Horizontal95M), math.Max(v.Common95M, next.Common95M)
	return v
}

// vertexAt is what the vertices are at a station between two of them.
func vertexAt(vs []trace.Vertex, stationM float64) trace.Vertex {
	i := sort.Search(len(vs), func(i int) bool { return vs[i].StationM >= stationM })
	if i == 0 {
		return vs[0]
	}
	if i == len(vs) {
		return vs[i-1]
	}
	a, b := vs[i-1], vs[i]
	return a.Lerp(b, (stationM-a.StationM)/math.Max(b.StationM-a.StationM, 1e-9))
}
