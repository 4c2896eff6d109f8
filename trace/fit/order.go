package fit

import (
	"math"
	"slices"

	"loamline.example/geo"
)

// How readings are thinned to a net and joined. Judgement, but for netWiden and
// besideSelf, which are those of a prototype study of the method (whose net was
// wider): a narrower net keeps two passes apart, a wider one rounds corners and joins a
// line that comes back beside itself.
const (
	netTries     = 5
	netWiden     = 1.7
	besideSelf   = 5    // a path of which more than one in so many nodes lies beside another part is no backbone
	netSigmas    = 1.5  // sigmas apart that are different ground
	netSteps     = 0.45 // steps, likewise
	leastNetM    = 0.1
	widestSigmas = 8 // sigmas that two passes of one line lie apart
	widestNetM   = 0.4
	hopLengths   = 2.5  // usual links of the tree, that a hop counts for at most
	mostDirected = 5000 // readings that are asked which way the walk goes
)

// backbone is a rough path through the kept readings: the longest path in the
// minimum spanning tree of thinned readings, where a hop counts no more than a
// few usual steps, so that an outlier can't win against a run of readings.
// Neighbours on the walk are drawn together, so that a line that comes close to
// itself isn't short-circuited. Path and tree as in Hastie and Stuetzle's
// principal curves (1989, JASA 84:502) only in spirit: the fit follows later.
func (w *walk) backbone() []geo.XY {
	pts, kept := w.kept()
	if len(pts) == 0 {
		return nil
	}
	r := w.netRadius()
	var path []geo.XY
	for try := 0; try < netTries; try++ {
		path = w.treePath(pts, r)
		if !besideItself(path, r) || r > w.widestNet() {
			break
		}
		r *= netWiden
	}
	return lengthen(lengthen(w.directed(path, kept), true, 3*r), false, 3*r)
}

// netRadius is how far apart readings must be to count as different ground.
func (w *walk) netRadius() float64 {
	s := math.Hypot(w.scaleM, w.floorM)
	return math.Max(math.Max(netSigmas*s, netSteps*w.stepM), leastNetM)
}

// widestNet bounds how far two passes may lie apart and still be one line.
func (w *walk) widestNet() float64 {
	return math.Max(widestSigmas*math.Hypot(w.scaleM, w.floorM), widestNetM)
}

// kept are the places of the readings that are not set aside, and their numbers.
func (w *walk) kept() (pts []geo.XY, at []int32) {
	for i := range w.obs {
		if w.obs[i].fate == Used {
			pts, at = append(pts, w.obs[i].p), append(at, int32(i))
		}
	}
	return pts, at
}

// treePath thins the points to a net of radius r and returns the longest path
// of its spanning tree.
func (w *walk) treePath(pts []geo.XY, r float64) []geo.XY {
	node, centers := thin(pts, r)
	stepM := w.stepM + r
	links := netLinks(centers, r)
	if w.order {
		links = walkLinks(links, node, centers, stepM)
	}
	tree := spanningTree(len(centers), links)
	if len(tree)+1 < len(centers) {
		tree = spanningTree(len(centers), append(tree, chainLinks(centers)...))
	}
	hop := hopLengths * medianLength(centers, tree)
	ids := newBranches(centers, tree, hop).longestPath()
	if w.order {
		ids = reopened(ids, node, centers, stepM)
	}
	path := make([]geo.XY, len(ids))
	for i, id := range ids {
		path[i] = centers[id]
	}
	return path
}

// thin assigns each point to a node within r, or makes it a new one; a node
// ends up at the mean of its points.
func thin(pts []geo.XY, r float64) (node []int32, centers []geo.XY) {
	g := newCellGrid(r, len(pts))
	node = make([]int32, len(pts))
	for i, p := range pts {
		id, _ := g.nearest(p)
		if id < 0 {
			id = g.add(p)
		}
		node[i] = id
	}
	centers = g.pts // where they began is of no use any more
	clear(centers)
	count := make([]int32, len(centers))
	for i, p := range pts {
		centers[node[i]] = centers[node[i]].Add(p)
		count[node[i]]++
	}
	for k := range centers {
		centers[k] = centers[k].Scale(1 / float64(count[k]))
	}
	return node, centers
}

// besideItself reports whether more than a fifth of a path has another part of
// it alongside: two passes that the net kept apart.
func besideItself(path []geo.XY, r float64) bool {
	if len(path) < 4 {
		return false
	}
	line := geo.NewPolyline(path)
	g := gridOver(path, 3*r)
	beside := 0
	for i, p := range path {
		hit := false
		g.around(p, 1, func(j int32) {
			apart := math.Abs(line.Station(i) - line.Station(int(j)))
			if d := p.Dist(path[j]); d < 3*r && apart > 3*d && apart > 4*r {
				hit = true
			}
		})
		if hit {
			beside++
		}
	}
	return beside*besideSelf > len(path)
}

// directed turns the path so that most of the walk goes along it.
func (w *walk) directed(path []geo.XY, kept []int32) []geo.XY {
	if len(path) < 2 || len(kept) < 2 {
		return path
	}
	idx := geo.NewPolyline(path).Index()
	along, last := 0.0, math.NaN()
	first, n := 0.0, float64(len(kept))
	stride := 1 + len(kept)/mostDirected
	for k := 0; k < len(kept); k += stride {
		i := kept[k]
		s := idx.Nearest(w.obs[i].p).StationM
		if !math.IsNaN(last) {
			along += clamp(s-last, -3*w.stepM*float64(stride), 3*w.stepM*float64(stride))
		}
		first += s * (float64(k) - (n-1)/2)
		last = s
	}
	if along < -1e-9 || (math.Abs(along) <= 1e-9 && first < 0) {
		slices.Reverse(path)
	}
	return path
}
