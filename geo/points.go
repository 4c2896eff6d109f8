package geo

import (
	"cmp"
	"math"
	"slices"
)

// Points finds the nearest of many points, in a tree of the boxes about them (Bentley, 1975,
// Communications of the ACM 18:509): however they lie, and however often at one place.
type Points struct {
	at  []XY
	ids []int // of at, in the order of the tree
	box [][2]XY
}

// NewPoints makes the tree of some points.
func NewPoints(at []XY) *Points {
	p := &Points{at: at, ids: make([]int, len(at)), box: make([][2]XY, len(at))}
	for i := range p.ids {
		p.ids[i] = i
	}
	p.split(0, len(at))
	return p
}

// split puts the middle one of a run in the order of the tree into its middle, those before
// it to one side along the longer side of their box, and notes that box.
func (p *Points) split(from, to int) {
	if from == to {
		return
	}
	lo, hi := p.at[p.ids[from]], p.at[p.ids[from]]
	for _, i := range p.ids[from:to] {
		lo.X, lo.Y = math.Min(lo.X, p.at[i].X), math.Min(lo.Y, p.at[i].Y)
		hi.X, hi.Y = math.Max(hi.X, p.at[i].X), math.Max(hi.Y, p.at[i].Y)
	}
	slices.SortFunc(p.ids[from:to], func(a, b int) int {
		if hi.X-lo.X > hi.Y-lo.Y {
			return cmp.Compare(p.at[a].X, p.at[b].X)
		}
		return cmp.Compare(p.at[a].Y, p.at[b].Y)
	})
	mid := (from + to) / 2
	p.box[mid] = [2]XY{lo, hi}
	p.split(from, mid)
	p.split(mid+1, to)
}

// NearestM is how far the nearest of the points is that are not the one with a number, by
// its place among those that were given; +Inf where there is none.
func (p *Points) NearestM(at XY, but int) float64 {
	return p.nearest(0, len(p.at), at, but, math.Inf(1))
}

func (p *Points) nearest(from, to int, at XY, but int, bestM float64) float64 {
	if from == to {
		return bestM
	}
	mid := (from + to) / 2
	lo, hi := p.box[mid][0], p.box[mid][1]
	if math.Hypot(math.Max(0, math.Max(lo.X-at.X, at.X-hi.X)), math.Max(0, math.Max(lo.Y-at.Y, at.Y-hi.Y))) >= bestM {
		return bestM
	}
	m := p.at[p.ids[mid]]
	if p.ids[mid] != but {
		bestM = math.Min(bestM, m.Dist(at))
	}
	before := at.X < m.X
	if hi.X-lo.X <= hi.Y-lo.Y {
		before = at.Y < m.Y
	}
	if before {
		bestM = p.nearest(from, mid, at, but, bestM)
		return p.nearest(mid+1, to, at, but, bestM)
	}
	bestM = p.nearest(mid+1, to, at, but, bestM)
	return p.nearest(from, mid, at, but, bestM)
}
