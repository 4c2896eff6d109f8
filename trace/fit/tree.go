package fit

import (
	"math"
	"sort"

	"loamline/geo"
)

// link joins two nodes of the net.
type link struct {
	a, b   int32
	cost   float64
	length float64
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
