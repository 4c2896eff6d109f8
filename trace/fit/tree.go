package fit

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
)

// link joins two nodes of the net. How long it is follows from them.
type link struct {
	cost float64
	a, b int32
}

// mostNear is the number of neighbours that a node of the net is joined with. Judgement, as in
// a prototype study of the method.
const mostNear = 8

// netReach is how many radii of the net its neighbours may be off: the next nodes on a
// line lie one to two apart. Up to mostPaired nodes all pairs are joined where the tree
// hangs in pieces: a million links. Judgement.
const (
	netReach   = 2.5
	mostPaired = 1500
)

// netLinks joins each node with its up to 8 nearest within a few radii.
func netLinks(centers []geo.XY, r float64) []link {
	g := gridOver(centers, netReach*r)
	crowded := make([]bool, len(centers)) // has more neighbours than it is joined with
	var out, near []link
	for i, c := range centers {
		near = near[:0]
		g.around(c, 1, func(j int32) {
			if j != int32(i) {
				near = append(near, link{c.Dist(centers[j]), int32(i), j})
			}
		})
		if crowded[i] = len(near) > mostNear; crowded[i] {
			slices.SortFunc(near, compareLinks)
			near = near[:mostNear]
		}
		for _, l := range near {
			// Neighbours see each other, so that one link does for both; only where the
			// other one is crowded it may not have joined this one.
			if l.a < l.b || crowded[l.b] {
				out = append(out, l)
			}
		}
	}
	return out
}

// walkLinks appends links of nodes that follow one another on the walk, at half
// the cost where the step is a usual one.
func walkLinks(out []link, node []int32, centers []geo.XY, stepM float64) []link {
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
		out = append(out, link{cost, a, b})
	}
	return out
}

// chainLinks makes sure that the graph hangs together: it joins islands by
// their nearest nodes, few at a time, and in the last resort along one axis.
func chainLinks(centers []geo.XY) []link {
	n := len(centers)
	var out []link
	if n <= mostPaired {
		for i := range centers {
			for j := range centers[:i] {
				out = append(out, link{centers[i].Dist(centers[j]), int32(i), int32(j)})
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
		out = append(out, link{centers[at[k]].Dist(centers[at[k-1]]), at[k-1], at[k]})
	}
	return out
}

func compareLinks(l, m link) int {
	if c := cmp.Compare(l.cost, m.cost); c != 0 {
		return c
	}
	if c := cmp.Compare(l.a, m.a); c != 0 {
		return c
	}
	return cmp.Compare(l.b, m.b)
}

// spanningTree is the cheapest set of links that joins all nodes (Kruskal 1956,
// Proc. AMS 7:48), cheapest first. It takes the place of the links that it is
// chosen from.
func spanningTree(n int, links []link) []link {
	slices.SortFunc(links, compareLinks)
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
	tree := links[:0]
	for _, l := range links {
		a, b := find(l.a), find(l.b)
		if a != b {
			parent[a] = b
			tree = append(tree, l)
		}
	}
	return tree
}

func medianLength(centers []geo.XY, tree []link) float64 {
	d := make([]float64, len(tree))
	for i, l := range tree {
		d[i] = centers[l.a].Dist(centers[l.b])
	}
	if len(d) == 0 {
		return 0
	}
	return median(d)
}

// branches is a tree with the links of each node at hand.
type branches struct {
	centers []geo.XY
	tree    []link
	first   []int32 // of each node's links in at; the next node's is their end
	at      []int32 // numbers of links, cheapest first
	hop     float64 // no link counts for more
}

func newBranches(centers []geo.XY, tree []link, hop float64) *branches {
	b := &branches{centers: centers, tree: tree, hop: hop}
	b.first, b.at = make([]int32, len(centers)+1), make([]int32, 2*len(tree))
	for _, l := range tree {
		b.first[l.a]++
		b.first[l.b]++
	}
	sum := int32(0)
	for i, n := range b.first {
		sum += n
		b.first[i] = sum
	}
	for k := len(tree) - 1; k >= 0; k-- { // from behind, so that first moves to the front
		for _, i := range [...]int32{tree[k].b, tree[k].a} {
			b.first[i]--
			b.at[b.first[i]] = int32(k)
		}
	}
	return b
}

// longestPath returns the nodes on the longest path of the tree.
func (b *branches) longestPath() []int32 {
	far, _ := b.farthest(0)
	end, from := b.farthest(far)
	var path []int32
	for i := end; i >= 0; i = from[i] {
		path = append(path, i)
	}
	return path
}

// farthest walks the tree from a node and returns the farthest one, and for each
// node the one before it.
func (b *branches) farthest(start int32) (int32, []int32) {
	from := make([]int32, len(b.centers))
	dist := make([]float64, len(b.centers))
	from[start] = -1
	stack := []int32{start}
	best := start
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if dist[i] > dist[best] {
			best = i
		}
		for _, k := range b.at[b.first[i]:b.first[i+1]] {
			l := b.tree[k]
			to := l.a + l.b - i
			if to != from[i] {
				from[to], dist[to] = i, dist[i]+math.Min(b.centers[l.a].Dist(b.centers[l.b]), b.hop)
				stack = append(stack, to)
			}
		}
	}
	return best, from
}
