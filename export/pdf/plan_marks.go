package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// markLayer is the places where something was read, exposed, checked or put on the line.
type markLayer struct{ *planView }

// readings marks where the receiver stood. Where readings are dense, not every
// used one is drawn; the ones set aside all are.
func (p *markLayer) readings() {
	for i := range p.lines {
		l := &p.lines[i]
		if !p.strip() && l.traced() {
			continue
		}
		last := plan.Pt{X: -1e9}
		for k := range l.Readings {
			r := &l.Readings[k]
			if !r.Placed() {
				continue
			}
			at := p.Paper(r.Pos)
			if !p.inside(at, 1) || r.Status == trace.StatusExposed {
				continue
			}
			if r.Status == trace.StatusUsed {
				if at.Sub(last).Norm() < 0.45 {
					continue
				}
				last = at
			}
			p.reading(l, r, at)
		}
	}
}

// transmitters marks where the signal was put on.
func (p *markLayer) transmitters() {
	for _, l := range p.lines {
		if l.Setup.Transmitter == nil {
			continue
		}
		if at := p.Paper(p.s.Plane.XY(*l.Setup.Transmitter)); p.inside(at, 2) {
			p.transmitterMark(at)
			p.board.Take(plan.Rect{X: at.X - 2, Y: at.Y - 2, W: 4, H: 4})
			p.used[signTransmitter] = true
		}
	}
}

func (p *markLayer) reading(l *drawnLine, r *trace.Reading, at plan.Pt) {
	switch r.Status {
	case trace.StatusUsed:
		dir := plan.Pt{X: 1}
		if l.traced() && trace.Known(r.StationM) {
			dir = p.dir(l, r.StationM)
		}
		p.tickMark(at, dir)
		p.used[signUsed] = true
	case trace.StatusCheck:
		p.checkMark(at)
		p.board.Ink([]plan.Pt{at, at.Add(plan.Pt{X: 0.5})}, 4)
		p.used[signCheck] = true
	default:
		p.crossMark(at)
		p.board.Ink([]plan.Pt{at, at.Add(plan.Pt{X: 0.5})}, 4)
		p.used[signSetAside] = true
	}
}

// exposures marks the places where a line was seen, with what was measured.
func (p *markLayer) exposures() {
	for i := range p.lines {
		l := &p.lines[i]
		for k := range l.Readings {
			r := &l.Readings[k]
			if r.Status != trace.StatusExposed || !r.Placed() {
				continue
			}
			at := p.Paper(r.Pos)
			if !p.inside(at, 2) {
				continue
			}
			p.exposedMark(at)
			p.used[signExposed] = true
			if p.strip() {
				p.words([]plan.Pt{at}, p.exposedWords(r), p.font(paper.Regular, 0.9), 2.5, 24)
			}
		}
	}
}

func (p *markLayer) exposedWords(r *trace.Reading) []string {
	where := "exposed"
	if trace.Known(r.StationM) {
		where += " at " + p.u.Long(r.StationM)
	}
	if !trace.Known(r.DepthM) {
		return []string{where, "depth not measured"}
	}
	lines := []string{where, "measured " + p.u.Short(r.DepthM) + " to centre"}
	if day := words.ReadingDay(r, p.date); day != "" {
		lines = append(lines, "on "+day)
	}
	return lines
}

// keep reserves the places of rings and single marks, so that no letter
// code or arrow falls on one.
func (p *markLayer) keep() {
	keep := func(at plan.Pt, radiusMM float64) {
		if p.inside(at, 2) {
			p.board.Take(plan.Rect{X: at.X - radiusMM, Y: at.Y - radiusMM, W: 2 * radiusMM, H: 2 * radiusMM})
		}
	}
	for _, n := range p.findings {
		if c, ok := n.Finding.(finding.Crossing); ok {
			keep(p.Paper(c.At), 2.3)
		}
	}
	for i := range p.lines {
		for k := range p.lines[i].Readings {
			r := &p.lines[i].Readings[k]
			if r.Placed() && (r.Status == trace.StatusExposed || r.Status == trace.StatusCheck && p.strip()) {
				keep(p.Paper(r.Pos), 1.4)
			}
		}
	}
}

// checkLabelMM is how long a line of a check's label may be: Spanish takes more room
// than English, and a crew sheet has one line for it.
func (p *markLayer) checkLabelMM() float64 {
	if p.tongue != nil {
		return 60
	}
	return 40
}

// checksFailed marks the field checks that failed or could not tell.
func (p *markLayer) checksFailed() {
	for _, n := range p.findings {
		c, ok := n.Finding.(finding.FieldCheck)
		if !ok || c.Passed() {
			continue
		}
		if at := p.Paper(c.At); p.inside(at, 2) {
			p.failedMark(at)
			p.used[signFailed] = true
			p.finding(n, at, p.c.WrapTo(words.FindingTitle(p.u, c), p.font(paper.Bold, 0.9), p.checkLabelMM(), 2), 2.5)
		}
	}
}
