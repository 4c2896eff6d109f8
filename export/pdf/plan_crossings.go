package pdf

import (
	"loamline/export/internal/paper"
	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
)

// crossings rings the places where lines meet and tells both read depths.
func (p *planView) crossings() {
	for _, n := range p.findings {
		c, ok := n.Finding.(trace.Crossing)
		if !ok {
			continue
		}
		at := p.Paper(c.At)
		if !p.inside(at, 2) {
			continue
		}
		p.c.Circle(at, 2.2, markPen)
		p.used[signCrossing] = true
		lines := []string{p.c.Fit(crossingTitle(p.u, c), p.font(paper.Bold, 0.9), 52)}
		for _, name := range []string{c.Line, c.Other} {
			lines = append(lines, p.c.Fit(name+": "+p.depthNear(name, c.At), p.font(paper.Regular, 0.9), 68))
		}
		p.finding(n, at, lines, 3.2)
	}
}

func crossingTitle(u geo.Units, c trace.Crossing) string {
	if c.SeparationM > 0 {
		return c.Line + " and " + c.Other + " " + u.Short(c.SeparationM) + " apart"
	}
	return c.Line + " crosses " + c.Other
}

// depthNear words the read depth of a named line nearest to a place, the doubt
// about it included.
func (d *drafter) depthNear(name string, at geo.XY) string {
	if i := d.lineNamed(name); i >= 0 && d.lines[i].traced() {
		if v, ok := d.lines[i].at(d.lines[i].path.Nearest(at).StationM); ok {
			return words.StationLabel(d.u, d.lines[i].Line, v)
		}
	}
	return words.DepthLabel(d.u, trace.Unknown, trace.Unknown)
}
