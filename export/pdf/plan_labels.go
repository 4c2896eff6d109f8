package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// longestRun returns the longest of the pieces of paths within r.
func longestRun(runs [][]plan.Pt, r plan.Rect) []plan.Pt {
	var best []plan.Pt
	bestMM := 0.0
	for _, run := range runs {
		for _, in := range plan.ClipPath(run, r) {
			if l := plan.NewWalk(in).Length(); l > bestMM {
				best, bestMM = in, l
			}
		}
	}
	return best
}

// label puts words beside a path, where it is best.
func (p *planView) label(run []plan.Pt, lines []string, f paper.Font, near, far float64) bool {
	w := plan.NewWalk(run)
	var anchors []plan.Pt
	for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92} {
		at, _ := w.At(t * w.Length())
		anchors = append(anchors, at)
	}
	return p.words(anchors, lines, f, near, far)
}

// words puts lines of text near one of some anchors, with a leader where they
// stand off.
func (p *planView) words(anchors []plan.Pt, lines []string, f paper.Font, near, far float64) bool {
	w, h := p.size(lines, f)
	r, i, ok := p.board.Place(anchors, w+1, h+0.8, near, far)
	if ok {
		p.write(r, anchors[i], lines, f)
	}
	return ok
}

func (d *drafter) size(lines []string, f paper.Font) (wMM, hMM float64) {
	for _, l := range lines {
		wMM = math.Max(wMM, d.c.Width(l, f))
	}
	return wMM, float64(len(lines)) * f.LineMM()
}

func (p *planView) write(r plan.Rect, anchor plan.Pt, lines []string, f paper.Font) {
	foot := r.Nearest(anchor)
	if foot.Sub(anchor).Norm() > 3 {
		p.c.Line(anchor, foot, leaderPen)
		p.board.Ink([]plan.Pt{anchor, foot}, 2)
	}
	p.c.Box(r, paper.White)
	p.c.Lines(r.X+0.5, r.Y+0.4, lines, f)
}
