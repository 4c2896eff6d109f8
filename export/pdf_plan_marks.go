package export

import (
	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
	"loamline/trace"
)

// paperStepM is the distance between stations: 5 or 10 m, 25 ft; less on a line
// that is shorter than three of them, more where they would touch on paper.
func paperStepM(u geo.Units, lengthM, mmPerM float64) float64 {
	steps := roundSteps(u)
	least := 5.0
	if u == geo.US {
		least = 25 * geo.FootM
	}
	if lengthM < 3*least {
		least = 0
	}
	for _, s := range steps {
		if s >= least-1e-9 && s*mmPerM >= 17 {
			return s
		}
	}
	return steps[len(steps)-1]
}

// stationsOf are the round stations between two, with the line's own end.
func stationsOf(u geo.Units, l *drawnLine, fromM, toM, mmPerM float64) []float64 {
	out := plan.Ticks(fromM, toM, paperStepM(u, l.path.Length(), mmPerM))
	if end := l.path.Length(); toM >= end-1e-6 && (len(out) == 0 || (end-out[len(out)-1])*mmPerM > 0.5) {
		out = append(out, end)
	}
	return out
}

// stations marks the sheet's own line, or every line of an overview.
func (p *planView) stations() {
	for i := range p.lines {
		l := &p.lines[i]
		if !l.traced() || p.strip() && i != p.sh.line {
			continue
		}
		k := p.Scale.MMPerM()
		if !p.strip() {
			k *= 0.6 // an overview needs fewer
		}
		for _, s := range stationsOf(p.u, l, 0, l.path.Length(), k) {
			p.station(l, s)
		}
	}
}

func (p *planView) station(l *drawnLine, s float64) {
	at := p.Paper(l.path.At(s))
	if !p.inside(at, 1) {
		return
	}
	dir := p.dir(l, s)
	n := dir.Normal().Scale(1.9)
	p.c.Line(at.Sub(n), at.Add(n), stationPen)
	p.board.Ink([]plan.Pt{at.Sub(n), at.Add(n)}, 1)
	p.used[signStation] = true
	f := p.font(paper.Regular, 0.9)
	p.words([]plan.Pt{at}, []string{p.u.Long(s)}, f, 2, 5)
}

// dir is the direction of a line on paper at a station.
func (p *planView) dir(l *drawnLine, stationM float64) plan.Pt {
	q := l.path.At(stationM)
	return p.Paper(q.Add(l.path.Direction(stationM))).Sub(p.Paper(q)).Unit()
}

// readings marks where the receiver stood. Where readings are dense, not every
// used one is drawn; the ones set aside all are.
func (p *planView) readings() {
	for i := range p.lines {
		l := &p.lines[i]
		if !p.strip() && l.traced() {
			continue
		}
		last := plan.Pt{X: -1e9}
		for k := range l.Readings {
			r := &l.Readings[k]
			if !placed(r) {
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

func (p *planView) reading(l *drawnLine, r *trace.Reading, at plan.Pt) {
	switch r.Status {
	case trace.StatusUsed:
		dir := plan.Pt{X: 1}
		if l.traced() && trace.Known(r.StationM) {
			dir = p.dir(l, r.StationM)
		}
		p.tickMark(at, dir)
		p.used[signUsed] = true
	case trace.StatusCheck:
		p.triangleMark(at, paper.White)
		p.board.Ink([]plan.Pt{at, at.Add(plan.Pt{X: 0.5})}, 4)
		p.used[signCheck] = true
	default:
		p.crossMark(at)
		p.board.Ink([]plan.Pt{at, at.Add(plan.Pt{X: 0.5})}, 4)
		p.used[signSetAside] = true
	}
}

// exposures marks the places where a line was seen, with what was measured.
func (p *planView) exposures() {
	for i := range p.lines {
		l := &p.lines[i]
		for k := range l.Readings {
			r := &l.Readings[k]
			if r.Status != trace.StatusExposed || !placed(r) {
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

func (p *planView) exposedWords(r *trace.Reading) []string {
	where := "exposed"
	if trace.Known(r.StationM) {
		where += " at " + p.u.Long(r.StationM)
	}
	if !trace.Known(r.DepthM) {
		return []string{where, "depth not measured"}
	}
	words := []string{where, "measured " + p.u.Short(r.DepthM) + " to centre"}
	if day := readingDay(r, p.date); day != "" {
		words = append(words, "on "+day)
	}
	return words
}

// readingDay is the day a reading was taken, else the job's.
func readingDay(r *trace.Reading, jobDate string) string {
	if !r.Time.IsZero() {
		return r.Time.Format("2006-01-02")
	}
	return jobDate
}

// keepMarks reserves the places of rings and single marks, so that no letter
// code or arrow falls on one.
func (p *planView) keepMarks() {
	keep := func(at plan.Pt, radiusMM float64) {
		if p.inside(at, 2) {
			p.board.Take(plan.Rect{X: at.X - radiusMM, Y: at.Y - radiusMM, W: 2 * radiusMM, H: 2 * radiusMM})
		}
	}
	for _, n := range p.findings {
		if c, ok := n.Finding.(trace.Crossing); ok {
			keep(p.Paper(c.At), 2.3)
		}
	}
	for i := range p.lines {
		for k := range p.lines[i].Readings {
			r := &p.lines[i].Readings[k]
			if placed(r) && (r.Status == trace.StatusExposed || r.Status == trace.StatusCheck && p.strip()) {
				keep(p.Paper(r.Pos), 1.4)
			}
		}
	}
}

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
			lines = append(lines, p.c.Fit(name+": "+p.depthNear(name, c.At), p.font(paper.Regular, 0.9), 52))
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

// depthNear words the read depth of a named line nearest to a place.
func (d *drafter) depthNear(name string, at geo.XY) string {
	i := d.lineNamed(name)
	if i < 0 || !d.lines[i].traced() {
		return DepthLabel(d.u, trace.Unknown, trace.Unknown)
	}
	foot := d.lines[i].path.Nearest(at)
	depth, band := d.lines[i].depthAt(foot.StationM)
	return DepthLabel(d.u, depth, band)
}

// checksFailed marks the field checks that did not come out.
func (p *planView) checksFailed() {
	for _, n := range p.findings {
		c, ok := n.Finding.(trace.FieldCheck)
		if !ok || c.Passed {
			continue
		}
		if at := p.Paper(c.At); p.inside(at, 2) {
			p.triangleMark(at, paper.Black)
			p.used[signFailed] = true
			p.finding(n, at, p.c.WrapTo(FindingTitle(p.u, c), p.font(paper.Bold, 0.9), 40, 2), 2.5)
		}
	}
}
