package pdf

import (
	"github.com/paulmach/orb"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// zones draws the caution zones of all lines below all tolerance zones.
func (p *planView) zones() {
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

func (p *planView) outline(rings [][]plan.Pt, pen paper.Pen, ink float64) {
	for _, r := range rings {
		for _, run := range plan.ClipPath(append(r, r[0]), p.clip) {
			p.c.Path(run, pen)
			p.board.Ink(run, ink)
		}
	}
}

// area hands every polygon that shows, cut for filling and whole for outlines.
func (p *planView) area(mp orb.MultiPolygon, s sign, draw func(fill, rings [][]plan.Pt)) {
	for _, poly := range mp {
		var fill, rings [][]plan.Pt
		for _, ring := range poly {
			var pts []plan.Pt
			for _, q := range ring {
				if t := p.Paper(geo.XY{X: q[0], Y: q[1]}); t.Finite() {
					pts = append(pts, t)
				}
			}
			if cut := plan.ClipRing(pts, p.clip); len(cut) > 2 {
				fill = append(fill, cut)
			}
			if pts = plan.Thin(pts, thinMM); len(pts) > 2 {
				rings = append(rings, pts)
			}
		}
		if len(fill) > 0 {
			draw(fill, rings)
			p.used[s] = true
		}
	}
}
