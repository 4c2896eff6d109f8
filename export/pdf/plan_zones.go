package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// zoneLayer is the tolerance and caution zones.
type zoneLayer struct{ *planView }

// draw draws the caution zones of all lines below all tolerance zones.
func (p *zoneLayer) draw() {
	var near []*drawnLine
	for i := range p.lines {
		if p.mayShow(&p.lines[i]) {
			near = append(near, &p.lines[i])
		}
	}
	for _, l := range near {
		p.area(l.Caution.Area, signCaution, func(fill, rings [][]plan.Pt) { p.c.Area(fill, cautionFill) })
	}
	for _, l := range near {
		p.area(l.Caution.Area, signCaution, func(fill, rings [][]plan.Pt) { p.outline(rings, cautionPen, 0.3) })
	}
	for _, l := range near {
		p.area(l.Tolerance.Area, signTolerance, func(fill, rings [][]plan.Pt) { p.outline(rings, tolerancePen, 0.5) })
	}
}

func (p *zoneLayer) outline(rings [][]plan.Pt, pen paper.Pen, ink float64) {
	for _, r := range rings {
		for _, run := range plan.ClipPath(append(r, r[0]), p.clip) {
			p.c.Path(run, pen)
			p.board.Ink(run, ink)
		}
	}
}
