package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// crossingLayer is the places where lines meet.
type crossingLayer struct{ *planView }

// draw rings the places where lines meet and tells both read depths.
func (p *crossingLayer) draw() {
	for _, n := range p.findings {
		c, ok := n.Finding.(finding.Crossing)
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
		regular := p.font(paper.Regular, 0.9)
		lines = append(lines, p.c.Fit(c.Line+": "+p.depthNear(c.Line, c.At), regular, 52))
		if c.OnRecord() {
			lines = append(lines, p.c.Fit(c.Other+": "+recordDepth(p.u, c), regular, 52))
		} else {
			lines = append(lines, p.c.Fit(c.Other+": "+p.depthNear(c.Other, c.At), regular, 52))
		}
		p.finding(n, at, lines, 3.2)
	}
}

func crossingTitle(u geo.Units, c finding.Crossing) string {
	if c.SeparationM > 0 {
		return c.Line + " and " + c.Other + " " + u.Short(c.SeparationM) + " apart"
	}
	if c.ByJump {
		return c.Line + " is drawn across " + c.Other
	}
	return c.Line + " crosses " + c.Other
}

// recordDepth words the depth of a line that is known from a record alone.
func recordDepth(u geo.Units, c finding.Crossing) string {
	if trace.Known(c.OtherDepthM) {
		return u.Short(c.OtherDepthM) + " on record, not located"
	}
	return "on record, not located"
}
