package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

func (p *profileDrawing) heightLines() {
	pen := paper.Pen{WidthMM: 0.1, Color: paper.Gray(165)}
	for _, h := range plan.Ticks(p.bottomM(), p.topM, depthStepM(p.u, p.vertical.MMPerM())) {
		p.c.Line(plan.Pt{X: p.plot.X, Y: p.y(h)}, plan.Pt{X: p.plot.Right(), Y: p.y(h)}, pen)
	}
	for _, s := range p.stations() {
		p.c.Line(plan.Pt{X: p.x(s), Y: p.plot.Y}, plan.Pt{X: p.x(s), Y: p.plot.Bottom()}, pen)
	}
}

// heightLabels writes depths below ground, or elevations.
func (p *profileDrawing) heightLabels() {
	f := p.font(paper.Regular, 0.85)
	unit, name := 1.0, " m"
	if p.u == geo.US {
		unit, name = geo.FootM, " ft"
	}
	step := depthStepM(p.u, p.vertical.MMPerM())
	digits := int(math.Max(0, -math.Floor(math.Log10(step/unit)+1e-9)))
	for _, h := range plan.Ticks(p.bottomM(), p.topM, step) {
		v := h / unit
		if !p.elevation {
			v = -v
		}
		y := p.y(h)
		if y < p.plot.Y+1 || y > p.plot.Bottom()-0.5 || !p.elevation && v < -1e-9 {
			continue
		}
		s := strconv.FormatFloat(v+0, 'f', digits, 64)
		p.c.Text(plan.Pt{X: p.plot.X - 1, Y: y + 0.8}, s+name, f, paper.Right)
		p.c.Text(plan.Pt{X: p.plot.Right() + 1, Y: y + 0.8}, s+name, f, paper.Left)
	}
}
