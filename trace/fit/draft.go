package fit

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

const (
	// maxVertexM is the longest leg between two vertices, so that what changes along a
	// straight, a band or a depth, has places to stand at. Judgement.
	maxVertexM = 2.5
	// leastDoubtM is the least doubt about an elbow that no reading is near which is worth
	// a band of its own. Judgement.
	leastDoubtM = 0.01
)

// draft is a vertex in the making, at a station of the shape's line.
type draft struct {
	p       geo.XY
	station float64
	run     int32
	corner  bool
	doubtM  float64
}

// drafts are vertices in the making, about the walk's own middle, and the run that
// each lies on. Until a vertex has its bands, its doubt beyond that run's stands
// in the common one, which is filled in last.
type drafts struct {
	vs  []trace.Vertex
	run []int32
}

// makeRoom allocates for all stretches at once.
func (ds *drafts) makeRoom(t *traced, st []stretch) {
	n := 0
	for _, x := range st {
		last := x.from
		t.landmarks(x.from, x.to, func(d draft) {
			n += max(1, legsOver(d.station-last))
			last = d.station
		})
	}
	ds.vs, ds.run = make([]trace.Vertex, 0, n), make([]int32, 0, n)
}

// legsOver is the number of legs that fill up a gap.
func legsOver(gapM float64) int { return int(math.Ceil(gapM/maxVertexM - 1e-9)) }

// adder returns what appends the vertices of one part, filled up so that none is
// farther than maxVertexM from the next.
func (ds *drafts) adder() func(draft) {
	var last draft
	first := len(ds.vs)
	return func(d draft) {
		if n := len(ds.vs); n > first {
			gap := d.station - last.station
			if gap < 1e-6 {
				last.corner = last.corner || d.corner
				ds.vs[n-1].Corner = last.corner
				return
			}
			k := legsOver(gap)
			for i := 1; i < k; i++ {
				u := float64(i) / float64(k)
				ds.put(draft{last.p.Lerp(d.p, u), last.station + u*gap, last.run, false, last.doubtM + u*(d.doubtM-last.doubtM)})
			}
		}
		ds.put(d)
		last = d
	}
}

func (ds *drafts) put(d draft) {
	ds.vs = append(ds.vs, trace.Vertex{Pos: d.p, StationM: d.station, DepthM: math.NaN(), Depth95M: math.NaN(), ElevM: math.NaN(), Common95M: d.doubtM, Corner: d.corner})
	ds.run = append(ds.run, d.run)
}

// cutTo drops the drafts from a number on.
func (ds *drafts) cutTo(n int) { ds.vs, ds.run = ds.vs[:n], ds.run[:n] }

// landmarks offers both ends of the line between two stations and what is to be
// a vertex between them.
func (t *traced) landmarks(from, to float64, add func(draft)) {
	line := t.sh.line
	n := len(line.Points)
	first := sort.Search(n, func(i int) bool { return line.Station(i) > from }) - 1
	onLeg := func(i int, s float64) draft {
		u := (s - line.Station(i)) / math.Max(line.Station(i+1)-line.Station(i), 1e-9)
		return draft{line.At(s), s, t.sh.owner[i], false, t.sh.doubtM[i] + u*(t.sh.doubtM[i+1]-t.sh.doubtM[i])}
	}
	for i := max(0, first); i < n && line.Station(i) < to; i++ {
		s := line.Station(i)
		if i+1 < n && s <= from && line.Station(i+1) > from {
			add(onLeg(i, from))
		}
		if s > from {
			free, doubt := t.sh.unseen(i)
			if doubt > 0 && s-free > from {
				add(draft{line.At(s - free), s - free, t.sh.owner[i-1], false, t.sh.doubtM[i-1]})
			}
			add(draft{line.Points[i], s, t.sh.owner[i], t.sh.corner[i], math.Hypot(t.sh.doubtM[i], doubt)})
			if doubt > 0 && s+free < to {
				add(draft{line.At(s + free), s + free, t.sh.owner[i], false, t.sh.doubtM[i]})
			}
		}
		if i+1 < n && line.Station(i+1) >= to {
			add(onLeg(i, to))
		}
	}
}

// unseen returns the doubt at a sharp elbow that no reading is near, and how far
// along both legs it reaches.
func (sh *shape) unseen(i int) (freeM, doubtM float64) {
	pts := sh.line.Points
	if i == 0 || i+1 >= len(pts) || sh.freeM[i] == 0 {
		return 0, 0
	}
	in, out := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
	freeM = math.Min(sh.freeM[i], math.Min(in.Norm(), out.Norm()))
	if doubtM = unseenBendM(turnBetween(in, out), freeM); doubtM < leastDoubtM {
		return 0, 0
	}
	return freeM, doubtM
}
