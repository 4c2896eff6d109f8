package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/geo"
)

// netEdges are the links of a net, each once, whichever way round.
func netEdges(links []link) map[[2]int32]bool {
	out := map[[2]int32]bool{}
	for _, l := range links {
		out[[2]int32{min(l.a, l.b), max(l.a, l.b)}] = true
	}
	return out
}

// Each node is joined with its eight nearest, crowded or not, and no link is in
// the list twice where nobody is crowded.
func TestNetLinks(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, extentM := range []float64{8, 80} {
		pts := scattered(r, 200, extentM)
		const radiusM = 1.0
		var want []link
		for i, p := range pts {
			var near []link
			for j, q := range pts {
				a, b := cellAt(p, 2.5*radiusM), cellAt(q, 2.5*radiusM)
				if i != j && max(a.x-b.x, b.x-a.x, a.y-b.y, b.y-a.y) <= 1 {
					near = append(near, link{p.Dist(q), int32(i), int32(j)})
				}
			}
			slices.SortFunc(near, compareLinks)
			want = append(want, near[:min(len(near), mostNear)]...)
		}
		got := netLinks(pts, radiusM)
		a, b := netEdges(got), netEdges(want)
		if len(a) != len(b) {
			t.Fatalf("%d links, want %d", len(a), len(b))
		}
		for e := range b {
			if !a[e] {
				t.Fatalf("no link %v", e)
			}
		}
		if extentM > 50 && len(got) != len(a) {
			t.Errorf("%d links for %d pairs", len(got), len(a))
		}
	}
}

// The spanning tree is as cheap as that of Prim's method (1957, Bell System
// Technical Journal 36:1389), and the longest path in it as long as the farthest
// of all pairs.
func TestSpanningTreeAndItsLongestPath(t *testing.T) {
	pts := scattered(rand.New(rand.NewPCG(5, 6)), 60, 20)
	n := len(pts)
	prim, left := 0.0, make([]float64, n)
	for i := range left {
		left[i] = pts[i].Dist(pts[0])
	}
	in := make([]bool, n)
	in[0] = true
	for range n - 1 {
		k := -1
		for i := range left {
			if !in[i] && (k < 0 || left[i] < left[k]) {
				k = i
			}
		}
		prim += left[k]
		in[k] = true
		for i := range left {
			left[i] = math.Min(left[i], pts[i].Dist(pts[k]))
		}
	}
	tree := spanningTree(n, chainLinks(pts))
	sum := 0.0
	dist := make([][]float64, n) // between all pairs along the tree, by Floyd and Warshall
	for i := range dist {
		dist[i] = make([]float64, n)
		for j := range dist[i] {
			if i != j {
				dist[i][j] = math.Inf(1)
			}
		}
	}
	const hop = 2.0
	for _, l := range tree {
		sum += l.cost
		d := math.Min(pts[l.a].Dist(pts[l.b]), hop)
		dist[l.a][l.b], dist[l.b][l.a] = d, d
	}
	close2(t, "cost", sum, prim, 1e-12)
	longest := 0.0
	for k := range dist {
		for i := range dist {
			for j := range dist {
				dist[i][j] = math.Min(dist[i][j], dist[i][k]+dist[k][j])
			}
		}
	}
	for i := range dist {
		longest = math.Max(longest, slices.Max(dist[i]))
	}
	path := newBranches(pts, tree, hop).longestPath()
	close2(t, "longest", dist[path[0]][path[len(path)-1]], longest, 1e-12)
	for k := 1; k < len(path); k++ {
		if !slices.ContainsFunc(tree, func(l link) bool {
			return l.a == path[k] && l.b == path[k-1] || l.b == path[k] && l.a == path[k-1]
		}) {
			t.Fatalf("the path leaves the tree between %d and %d", path[k-1], path[k])
		}
	}
}

// A tree of one node has a path of one.
func TestLongestPathOfOne(t *testing.T) {
	if path := newBranches([]geo.XY{{X: 1}}, nil, 1).longestPath(); !slices.Equal(path, []int32{0}) {
		t.Errorf("path %v", path)
	}
}
