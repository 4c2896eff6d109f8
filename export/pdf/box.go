package pdf

import (
	"math"

	"loamline.example/geo"
)

// groundBox holds all of a line that is drawn as a line or an area, so that a
// sheet of a job with hundreds of lines passes over those that lie elsewhere.
type groundBox struct{ lo, hi geo.XY }

func boxOf(l *drawnLine) groundBox {
	b := groundBox{geo.XY{X: math.Inf(1), Y: math.Inf(1)}, geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, q := range l.path.Points {
		b.hold(q)
	}
	for _, poly := range append(l.Caution.Area[:len(l.Caution.Area):len(l.Caution.Area)], l.Tolerance.Area...) {
		for _, ring := range poly {
			for _, q := range ring {
				b.hold(geo.XY{X: q[0], Y: q[1]})
			}
		}
	}
	return b
}

func (b *groundBox) hold(q geo.XY) {
	b.lo = geo.XY{X: math.Min(b.lo.X, q.X), Y: math.Min(b.lo.Y, q.Y)}
	b.hi = geo.XY{X: math.Max(b.hi.X, q.X), Y: math.Max(b.hi.Y, q.Y)}
}

// within reports whether a box may hold a place that lies no farther than reachM
// from q; of one with a coordinate that is no number it does.
func (b *groundBox) within(reachM float64, q geo.XY) bool {
	return !(q.X < b.lo.X-reachM || q.X > b.hi.X+reachM || q.Y < b.lo.Y-reachM || q.Y > b.hi.Y+reachM)
}
