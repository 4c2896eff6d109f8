package fit

import (
	"math"
	"sort"

	"loamline/geo"
)

// backbone is a rough path through the kept readings: the longest path in the
// minimum spanning tree of thinned readings, where a hop counts no more than a
// few usual steps, so that a stray can't win against a run of readings.
// Neighbours on the walk are drawn together, so that a line that comes close to
// itself isn't short-circuited. Path and tree as in Hastie and Stuetzle's
// principal curves (1989, JASA 84:502) only in spirit: the fit follows later.
func (w *walk) backbone() []geo.XY {
	pts, kept := w.smoothed()
	if len(pts) == 0 {
		return nil
	}
	r := w.netRadius()
	var path []geo.XY
	for try := 0; try < 5; try++ {
		path = w.treePath(pts, r)
		if !besideItself(path, r) || r > w.widestNet() {
			break
		}
		r *= 1.7
	}
	return extended(w.directed(path, kept), 3*r)
}

// extended lengthens both ends of a path along their last leg.
func extended(path []geo.XY, byM float64) []geo.XY {
	n := len(path)
	if n < 2 {
		return path
	}
	a, b := path[0].Sub(path[1]), path[n-1].Sub(path[n-2])
	out := make([]geo.XY, 0, n+2)
	out = append(out, path[0].Add(a.Scale(byM/a.Norm())))
	out = append(out, path...)
	return append(out, path[n-1].Add(b.Scale(byM/b.Norm())))
}

// netRadius is how far apart readings must be to count as different ground.
func (w *walk) netRadius() float64 {
	s := math.Hypot(w.scaleM, w.floorM)
	return math.Max(math.Max(1.5*s, 0.45*w.stepM), 0.1)
}

// widestNet bounds how far two passes may lie apart and still be one line.
func (w *walk) widestNet() float64 {
	return math.Max(8*math.Hypot(w.scaleM, w.floorM), 0.4)
}

// smoothed returns the kept positions, averaged along the walk where the noise
// is large against the step, and their numbers.
func (w *walk) smoothed() ([]geo.XY, []int) {
	var kept []int
	for i := range w.obs {
		if w.obs[i].fate == Used {
			kept = append(kept, i)
		}
	}
	pts := make([]geo.XY, len(kept))
	half := 0
	if w.order && w.stepM > 0 {
		half = int(clamp(1.2*math.Hypot(w.scaleM, w.floorM)*w.wobble()/w.stepM, 0, 10))
	}
	for k, i := range kept {
		if half == 0 {
			pts[k] = w.obs[i].p
			continue
		}
		pts[k] = w.localLine(kept, k, half)
	}
	return pts, kept
}

// localLine is the value at k of a straight line in the row number through the
// readings within half rows (Cleveland 1979, JASA 74:829, without robustness).
func (w *walk) localLine(kept []int, k, half int) geo.XY {
	lo, hi := max(0, k-half), min(len(kept)-1, k+half)
	var s0, s1, s2 float64
	var y0, y1 geo.XY
	for j := lo; j <= hi; j++ {
		u := float64(j - k)
		t := 1 - math.Pow(math.Abs(u)/float64(half+1), 3)
		wt := t * t * t
		p := w.obs[kept[j]].p
		s0, s1, s2 = s0+wt, s1+wt*u, s2+wt*u*u
		y0, y1 = y0.Add(p.Scale(wt)), y1.Add(p.Scale(wt*u))
	}
	det := s0*s2 - s1*s1
	if det <= 1e-9*s0*s2 {
		return y0.Scale(1 / s0)
	}
	return y0.Scale(s2 / det).Sub(y1.Scale(s1 / det))
}

// link joins two nodes of the net.
type link struct {
	a, b   int32
	cost   float64
	length float64
}

// treePath thins the points to a net of radius r and returns the longest path
// of its spanning tree.
func (w *walk) treePath(pts []geo.XY, r float64) []geo.XY {
	node, centers := thin(pts, r)
	links := netLinks(centers, r)
	if w.order {
		links = append(links, walkLinks(node, centers, w.stepM+r)...)
	}
	tree := spanningTree(len(centers), links)
	if len(tree)+1 < len(centers) {
		tree = spanningTree(len(centers), append(links, chainLinks(centers)...))
	}
	hop := 2.5 * medianLength(tree)
	ids := longestPath(len(centers), tree, hop)
	path := make([]geo.XY, len(ids))
	for i, id := range ids {
		path[i] = centers[id]
	}
	return path
}

// thin assigns each point to a node within r, or makes it a new one; a node
// ends up at the mean of its points.
func thin(pts []geo.XY, r float64) (node []int32, centers []geo.XY) {
	g := newCellGrid(r)
	node = make([]int32, len(pts))
	for i, p := range pts {
		id, _ := g.nearest(p)
		if id < 0 {
			id = g.add(p)
		}
		node[i] = id
	}
	centers = make([]geo.XY, len(g.pts))
	count := make([]float64, len(g.pts))
	for i, p := range pts {
		centers[node[i]] = centers[node[i]].Add(p)
		count[node[i]]++
	}
	for k := range centers {
		centers[k] = centers[k].Scale(1 / count[k])
	}
	return node, centers
}

// netLinks joins each node with its up to 8 nearest within a few radii.
func netLinks(centers []geo.XY, r float64) []link {
	g := newCellGrid(2.5 * r)
	for _, c := range centers {
		g.add(c)
	}
	var out, near []link
	for i, c := range centers {
		near = near[:0]
		g.around(c, 1, func(j int32) {
			if j != int32(i) {
				d := c.Dist(centers[j])
				near = append(near, link{int32(i), j, d, d})
			}
		})
		sort.Slice(near, func(a, b int) bool { return lessLink(near[a], near[b]) })
		out = append(out, near[:min(8, len(near))]...)
	}
	return out
}

// walkLinks joins nodes that follow one another on the walk, at half the cost
// where the step is a usual one.
func walkLinks(node []int32, centers []geo.XY, stepM float64) []link {
	var out []link
	for i := 1; i < len(node); i++ {
		a, b := node[i-1], node[i]
		if a == b {
			continue
		}
		d := centers[a].Dist(centers[b])
		cost := d
		if d <= 3*stepM {
			cost = 0.5 * d
		}
		out = append(out, link{a, b, cost, d})
	}
	return out
}

// chainLinks makes sure that the graph hangs together: it joins islands by
// their nearest nodes, few at a time, and in the last resort along one axis.
func chainLinks(centers []geo.XY) []link {
	n := len(centers)
	var out []link
	if n <= 1500 {
		for i := range centers {
			for j := range centers[:i] {
				d := centers[i].Dist(centers[j])
				out = append(out, link{int32(i), int32(j), d, d})
			}
		}
		return out
	}
	at := make([]int32, n)
	for i := range at {
		at[i] = int32(i)
	}
	sort.SliceStable(at, func(a, b int) bool { return centers[at[a]].X < centers[at[b]].X })
	for k := 1; k < n; k++ {
		d := centers[at[k]].Dist(centers[at[k-1]])
		out = append(out, link{at[k-1], at[k], d, d})
	}
	return out
}

func lessLink(a, b link) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	if a.a != b.a {
		return a.a < b.a
	}
	return a.b < b.b
}

// spanningTree is the cheapest set of links that joins all nodes (Kruskal 1956,
// Proc. AMS 7:48).
func spanningTree(n int, links []link) []link {
	sort.Slice(links, func(a, b int) bool { return lessLink(links[a], links[b]) })
	parent := make([]int32, n)
	for i := range parent {
		parent[i] = int32(i)
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	var tree []link
	for _, l := range links {
		a, b := find(l.a), find(l.b)
		if a != b {
			parent[a] = b
			tree = append(tree, l)
		}
	}
	return tree
}

func medianLength(tree []link) float64 {
	d := make([]float64, len(tree))
	for i, l := range tree {
		d[i] = l.length
	}
	if len(d) == 0 {
		return 0
	}
	return median(d)
}

// longestPath returns the nodes on the longest path of a tree, where no link
// counts for more than hop.
func longestPath(n int, tree []link, hop float64) []int32 {
	next := make([][]link, n)
	for _, l := range tree {
		l.length = math.Min(l.length, hop)
		next[l.a] = append(next[l.a], l)
		next[l.b] = append(next[l.b], link{l.b, l.a, l.cost, l.length})
	}
	far, _ := farthest(next, 0)
	end, from := farthest(next, far)
	var path []int32
	for i := end; i >= 0; i = from[i] {
		path = append(path, i)
	}
	return path
}

// farthest walks a tree from a node and returns the farthest one, and for each
// node the one before it.
func farthest(next [][]link, start int32) (int32, []int32) {
	from := make([]int32, len(next))
	dist := make([]float64, len(next))
	from[start] = -1
	stack := []int32{start}
	best := start
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if dist[i] > dist[best] {
			best = i
		}
		for _, l := range next[i] {
			if l.b != from[i] {
				from[l.b], dist[l.b] = i, dist[i]+l.length
				stack = append(stack, l.b)
			}
		}
	}
	return best, from
}

// besideItself reports whether more than a fifth of a path has another part of
// it alongside: two passes that the net kept apart.
func besideItself(path []geo.XY, r float64) bool {
	if len(path) < 4 {
		return false
	}
	line := geo.NewPolyline(path)
	g := newCellGrid(3 * r)
	for _, p := range path {
		g.add(p)
	}
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
	return beside*5 > len(path)
}

// directed turns the path so that most of the walk goes along it.
func (w *walk) directed(path []geo.XY, kept []int) []geo.XY {
	if len(path) < 2 || len(kept) < 2 {
		return path
	}
	idx := newLineIndex(geo.NewPolyline(path))
	along, last := 0.0, math.NaN()
	first, n := 0.0, float64(len(kept))
	stride := 1 + len(kept)/5000
	for k := 0; k < len(kept); k += stride {
		i := kept[k]
		s := idx.nearest(w.obs[i].p).StationM
		if !math.IsNaN(last) {
			along += clamp(s-last, -3*w.stepM*float64(stride), 3*w.stepM*float64(stride))
		}
		first += s * (float64(k) - (n-1)/2)
		last = s
	}
	if along < -1e-9 || (math.Abs(along) <= 1e-9 && first < 0) {
		for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
			path[i], path[j] = path[j], path[i]
		}
	}
	return path
}
