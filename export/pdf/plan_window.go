package pdf

import (
	"math"

	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// planWindow is a piece of ground on paper, with what is taken on it already.
type planWindow struct {
	plan.View
	board *plan.Board
	clip  plan.Rect // a little more than the window
}

// inside reports whether a place lies in the window, some way from its sides.
func (w *planWindow) inside(q plan.Pt, marginMM float64) bool {
	return q.Finite() && w.Window.Inset(marginMM).Contains(q)
}

// runs returns what a window shows of a path on the ground.
func (w *planWindow) runs(path []geo.XY) [][]plan.Pt {
	return plan.ClipPath(plan.Thin(w.Path(path), thinMM), w.clip)
}

// thinMM is the least distance between the points of a drawn path: a quarter of
// the thinnest pen.
const thinMM = 0.04

// mayShow reports whether a line or its zones may reach into the window: false
// only where they cannot.
func (w *planWindow) mayShow(l *drawnLine) bool {
	reachM := 0.0
	for _, c := range [...]plan.Pt{{X: w.clip.X, Y: w.clip.Y}, {X: w.clip.Right(), Y: w.clip.Y}, {X: w.clip.Right(), Y: w.clip.Bottom()}, {X: w.clip.X, Y: w.clip.Bottom()}} {
		reachM = math.Max(reachM, w.Ground(c).Dist(w.Center))
	}
	return l.box.within(1.01*reachM+0.1, w.Center)
}

// dir is the direction of a line on paper at a station.
func (w *planWindow) dir(l *drawnLine, stationM float64) plan.Pt {
	q := l.path.At(stationM)
	return w.Paper(q.Add(l.path.Direction(stationM))).Sub(w.Paper(q)).Unit()
}
