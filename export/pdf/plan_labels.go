package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/trace"
	"loamline.example/trace/finding"
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

func (p *planView) write(r plan.Rect, anchor plan.Pt, lines []string, f paper.Font) {
	foot := r.Nearest(anchor)
	if foot.Sub(anchor).Norm() > 3 {
		p.c.Line(anchor, foot, leaderPen)
		p.board.Ink([]plan.Pt{anchor, foot}, 2)
	}
	p.c.Box(r, paper.White)
	p.c.Lines(r.X+0.5, r.Y+0.4, lines, f)
}

// finding puts a numbered label near an anchor: the first line bold. Where the
// words find no room the number alone is drawn and the words go to the column.
func (p *planView) finding(n numbered, anchor plan.Pt, lines []string, near float64) {
	p.used[signNumber], p.told[n.no] = true, true
	reachMM := 44.0
	if p.sh.kind == crewSheet {
		lines, reachMM = lines[:1], 24 // the lists below tell the rest
	}
	head, body := p.font(paper.Bold, 0.9), p.font(paper.Regular, 0.9)
	w, _ := p.size(lines[:1], head)
	w2, _ := p.size(lines[1:], body)
	w = math.Max(w, w2) + 2*discMM + 1.8
	h := float64(len(lines))*head.LineMM() + 1
	if p.strip() || p.sh.kind == crewSheet && !watched(n.Finding) {
		if r, _, ok := p.board.Place([]plan.Pt{anchor}, w, h, near, reachMM); ok {
			p.write(r, anchor, nil, head)
			p.c.Frame(r, paper.Pen{WidthMM: 0.15, Color: paper.Black})
			p.numberDisc(plan.Pt{X: r.X + discMM + 0.3, Y: r.Y + discMM + 0.3}, n.no)
			x := r.X + 2*discMM + 1.1
			p.c.Lines(x, p.c.Lines(x, r.Y+0.4, lines[:1], head), lines[1:], body)
			return
		}
	}
	if r, _, ok := p.board.Place([]plan.Pt{anchor}, 2*discMM, 2*discMM, near-1, 40); ok {
		p.write(r, anchor, nil, head)
		p.numberDisc(r.Center(), n.no)
		return
	}
	p.numberDisc(anchor, n.no)
}

// watched reports a stretch that is to be watched only: on a crowded plan its
// number and its strokes say so, and leave room for what must not be trusted.
func watched(f trace.Finding) bool {
	b, ok := f.(finding.BleedOver)
	return ok && b.Grade == trace.GradeWatch && !b.Jump
}
