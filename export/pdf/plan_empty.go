package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// drawNoPlace says in the middle of an empty plan that there is no place to show.
func drawNoPlace(p *pencil, win plan.Rect) {
	p.c.Frame(win, thinPen)
	p.c.Text(plan.Pt{X: win.Center().X, Y: win.Bottom() - 6}, "No reading of this job has a usable position.", p.font(paper.Regular, 1.2), paper.Middle)
}

// drawNoLine says large that no line could be drawn.
func drawNoLine(p *pencil, s *trace.Sheet, win plan.Rect) {
	head, f := p.font(paper.Bold, 2.2), p.font(paper.Regular, 1.2)
	text := p.c.Wrap("The readings of this job do not support a line. "+words.Ledger(s.Counts)+
		". The notes tell why. This sheet says nothing about where lines are: do not dig by it.", f, win.W*0.7)
	h := head.LineMM() + float64(len(text))*f.LineMM() + 5
	box := plan.Rect{X: win.Center().X - win.W*0.37, Y: win.Y + 6, W: win.W * 0.74, H: h}
	p.c.Box(box, paper.White)
	p.c.Frame(box, heavyPen)
	p.c.Text(plan.Pt{X: box.Center().X, Y: box.Y + head.LineMM()}, "NO LINE COULD BE DRAWN", head, paper.Middle)
	for i, l := range text {
		p.c.Text(plan.Pt{X: box.Center().X, Y: box.Y + head.LineMM() + 2 + float64(i+1)*f.LineMM()}, l, f, paper.Middle)
	}
}
