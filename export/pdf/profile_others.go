package pdf

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// otherLine is a line that meets this one, at its own depth.
type otherLine struct {
	name             string
	stationM         float64
	depthM, depth95M float64
	heightM          float64
	label            string // the depth in words, the doubt about it included
}

// others returns the lines that cross within the strip.
func (p *profileView) others() []otherLine {
	var out []otherLine
	for _, n := range p.findings {
		c, ok := n.Finding.(finding.Crossing)
		name := p.line.Setup.Name
		if !ok || c.Line != name && (c.Other != name || c.OnRecord()) {
			continue
		}
		o := otherLine{name: c.Other, stationM: c.StationM}
		if c.Line != name {
			o.name, o.stationM = c.Line, p.line.path.Nearest(c.At).StationM
		}
		if !p.within(o.stationM) {
			continue
		}
		o.depthM, o.depth95M = trace.Unknown, trace.Unknown
		if c.OnRecord() {
			o.depthM, o.label = c.OtherDepthM, recordDepth(p.u, c)
		} else if i := p.lineNamed(o.name); i >= 0 && p.lines[i].traced() {
			o.depthM, o.depth95M = p.lines[i].depthAt(p.lines[i].path.Nearest(c.At).StationM)
			o.label = p.depthNear(o.name, c.At)
		}
		o.heightM = p.ground(o.stationM) - o.depthM
		out = append(out, o)
	}
	return out
}
