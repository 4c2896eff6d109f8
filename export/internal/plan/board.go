package plan

import (
	"math"
	"slices"
)

// Board keeps account of what is drawn where in a window, so that labels find
// room. Ink may be written over at a cost; a taken place may not.
type Board struct {
	area   Rect
	nx, ny int
	ink    []float32
	taken  taken
}

const boardCellMM = 0.8

// NewBoard returns an empty board over an area.
func NewBoard(area Rect) *Board {
	nx := max(1, int(math.Ceil(area.W/boardCellMM)))
	ny := max(1, int(math.Ceil(area.H/boardCellMM)))
	return &Board{area: area, nx: nx, ny: ny, ink: make([]float32, nx*ny)}
}

// Ink notes a drawn path that labels had better not cover. Weight 1 is an
// ordinary line.
func (b *Board) Ink(path []Pt, weight float64) {
	for _, run := range ClipPath(path, b.area) {
		for i := 0; i+1 < len(run); i++ {
			n := int(run[i+1].Sub(run[i]).Norm()/boardCellMM) + 1
			for j := 0; j <= n; j++ {
				b.dot(run[i].Add(run[i+1].Sub(run[i]).Scale(float64(j)/float64(n))), weight)
			}
		}
	}
}

func (b *Board) dot(p Pt, weight float64) {
	x, y := int((p.X-b.area.X)/boardCellMM), int((p.Y-b.area.Y)/boardCellMM)
	if x < 0 || y < 0 || x >= b.nx || y >= b.ny {
		return
	}
	if c := &b.ink[y*b.nx+x]; *c < float32(weight) {
		*c = float32(weight)
	}
}

// Fill notes an area, of which rings inside rings are holes.
func (b *Board) Fill(rings [][]Pt, weight float64) {
	cuts := make([][]float64, b.ny)
	middle := func(row int) float64 { return b.area.Y + (float64(row)+0.5)*boardCellMM }
	for _, ring := range rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if p.Y > q.Y {
				p, q = q, p
			}
			first := max(0, int(math.Ceil((p.Y-b.area.Y)/boardCellMM-0.5)))
			for row := first; row < b.ny && middle(row) < q.Y; row++ {
				cuts[row] = append(cuts[row], p.X+(q.X-p.X)*(middle(row)-p.Y)/(q.Y-p.Y))
			}
		}
	}
	for row, xs := range cuts {
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			b.Ink([]Pt{{xs[i], middle(row)}, {xs[i+1], middle(row)}}, weight)
		}
	}
}

// Take reserves a place: no label will be put there.
func (b *Board) Take(r Rect) { b.taken.add(r) }

// Cost returns what a label in r would write over, and whether r is free: in
// the area and clear of every taken place.
func (b *Board) Cost(r Rect) (float64, bool) {
	if r.X < b.area.X || r.Y < b.area.Y || r.Right() > b.area.Right() || r.Bottom() > b.area.Bottom() {
		return 0, false
	}
	free := true
	b.taken.each(r, func(t Rect) bool {
		free = !r.overlaps(t)
		return free
	})
	if !free {
		return 0, false
	}
	var sum float64
	x0, x1 := int((r.X-b.area.X)/boardCellMM), int((r.Right()-b.area.X)/boardCellMM)
	y0, y1 := int((r.Y-b.area.Y)/boardCellMM), int((r.Bottom()-b.area.Y)/boardCellMM)
	for y := max(0, y0); y <= min(b.ny-1, y1); y++ {
		for x := max(0, x0); x <= min(b.nx-1, x1); x++ {
			sum += float64(b.ink[y*b.nx+x])
		}
	}
	return sum, true
}

// Place finds room for a label of w by h millimetres about one of some anchors,
// no nearer than near and no farther than far, and takes it. The cheapest place
// wins: the one that covers the least ink, then the nearest. It returns the
// place and which anchor it belongs to.
func (b *Board) Place(anchors []Pt, w, h, near, far float64) (Rect, int, bool) {
	var best Rect
	bestCost, which := math.Inf(1), 0
	for i, anchor := range anchors {
		for d := near; d <= far+1e-9; d += 2 {
			for k := range 24 {
				r := around(anchor, w, h, d, float64(k)*math.Pi/12)
				cost, free := b.Cost(r)
				if cost += (d - near) * 0.6; !free || cost >= bestCost-1e-9 {
					continue
				}
				if cost += b.leaderCost(anchor, r); cost < bestCost-1e-9 {
					best, bestCost, which = r, cost, i
				}
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		return Rect{}, 0, false
	}
	b.Take(best)
	return best, which, true
}

// leaderCost is the price of a leader that would run through taken places.
func (b *Board) leaderCost(anchor Pt, r Rect) float64 {
	foot := r.Nearest(anchor)
	sum := 0.0
	way := Rect{math.Min(anchor.X, foot.X), math.Min(anchor.Y, foot.Y), math.Abs(anchor.X - foot.X), math.Abs(anchor.Y - foot.Y)}
	b.taken.each(way, func(t Rect) bool {
		if !t.Contains(anchor) {
			if _, _, hit := clipSegment(anchor, foot, t); hit {
				sum += 30
			}
		}
		return true
	})
	return sum
}

// around returns a rectangle that lies in a direction from the anchor, its near
// edge at distance d.
func around(anchor Pt, w, h, d, angle float64) Rect {
	s, c := math.Sincos(angle)
	return Rect{anchor.X + c*(d+w/2) - w/2, anchor.Y - s*(d+h/2) - h/2, w, h}
}

// cornerStepMM is how closely a place is looked for where every corner is drawn on.
const cornerStepMM = 4.0

// Corner is the corner of the area that is free of ink for a block of w by h
// millimetres, else another place that is, else the one with the least; and how much it
// covers.
func (b *Board) Corner(w, h, inset float64) (Rect, float64) {
	a := b.area.Inset(inset)
	corners := []Rect{
		{a.X, a.Bottom() - h, w, h}, {a.Right() - w, a.Bottom() - h, w, h},
		{a.Right() - w, a.Y, w, h}, {a.X, a.Y, w, h},
	}
	best, bestCost := corners[0], math.Inf(1)
	try := func(r Rect) {
		if cost, free := b.Cost(r); free && cost < bestCost {
			best, bestCost = r, cost
		}
	}
	for _, r := range corners {
		try(r)
	}
	// Where every corner holds something drawn, a side may not, or the middle.
	for _, y := range []float64{a.Bottom() - h, a.Y} {
		for x := a.X; x <= a.Right()-w && bestCost > 0; x += cornerStepMM {
			try(Rect{x, y, w, h})
		}
	}
	for y := a.Y; y <= a.Bottom()-h && bestCost > 0; y++ {
		for x := a.X; x <= a.Right()-w && bestCost > 0; x += cornerStepMM {
			try(Rect{x, y, w, h})
		}
	}
	return best, bestCost
}
