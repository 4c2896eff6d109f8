package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

func (p *profileView) draw() {
	p.c.Clip(p.plot.Inset(-0.3), func() {
		p.shades()
		p.heightLines()
		p.bands()
		p.depths()
		p.groundLine()
		p.readingDepths()
	})
	p.heightLabels()
	p.numbers()
	p.exposed()
	p.crossingLines()
	p.voids()
	p.c.Frame(p.plot, thinPen)
	p.matchEnds()
}

// shades greys the stretches where depth may not be trusted and hatches their
// foot as the plan hatches them.
func (p *profileView) shades() {
	// All that is grey before any hatch: of stretches that overlap each keeps its own.
	each := func(do func(finding.BleedOver, plan.Rect)) {
		for _, n := range p.findings {
			f, ok := n.Finding.(finding.BleedOver)
			if r, shown := p.span(f.FromM, f.ToM); ok && shown && f.Line == p.line.Setup.Name {
				do(f, r)
			}
		}
	}
	each(func(_ finding.BleedOver, r plan.Rect) { p.c.Box(r, paper.Gray(238)) })
	each(func(f finding.BleedOver, r plan.Rect) {
		foot := []plan.Pt{{X: r.X, Y: r.Bottom() - 1.5}, {X: r.Right(), Y: r.Bottom() - 1.5}}
		p.hatch(foot, 1.5, 1.5, f.Grade)
		p.board.Take(plan.Rect{X: r.X, Y: r.Bottom() - 3, W: r.W, H: 3})
	})
}

// span is the part of the plot between two stations.
func (p *profileView) span(fromM, toM float64) (plan.Rect, bool) {
	fromM, toM = math.Max(fromM, p.sh.strip.FromM), math.Min(toM, p.sh.strip.ToM)
	if !(toM > fromM) {
		return plan.Rect{}, false
	}
	a, b := p.x(fromM), p.x(toM)
	return plan.Rect{X: math.Min(a, b), Y: p.plot.Y, W: math.Abs(b - a), H: p.plot.H}, true
}

// bands fills the 95 % band of the depth.
func (p *profileView) bands() {
	for _, run := range p.heldRuns(p.knownRuns(true), false) {
		var up, down []plan.Pt
		for _, q := range run {
			up = append(up, p.at(q.stationM, math.Min(q.groundM, q.lineM()+q.bandM)))
			down = append(down, p.at(q.stationM, q.lineM()-q.bandM))
		}
		ring := append([]plan.Pt{}, up...)
		for i := len(down) - 1; i >= 0; i-- {
			ring = append(ring, down[i])
		}
		p.c.Area([][]plan.Pt{ring}, bandFill)
		p.c.Path(up, bandPen)
		p.c.Path(down, bandPen)
		p.board.Ink(up, 0.6)
		p.board.Ink(down, 0.6)
		p.used[signBand] = true
	}
}

func (p *profileView) depths() {
	p.distrustedDepths()
	for _, run := range parted(p.knownRuns(false), false, func(q profilePoint) bool { return q.distrusted }) {
		path := make([]plan.Pt, len(run))
		for i, q := range run {
			path[i] = p.at(q.stationM, q.lineM())
		}
		p.utilityLine([][]plan.Pt{path}, p.line.style, 0.8)
		p.board.Ink(path, 4)
		w := plan.NewWalk(path)
		if w.Length() > 8 {
			at, dir := w.At(w.Length() * 0.43)
			p.codeOnLine(at, dir, p.line.style)
			p.board.Take(plan.Rect{X: at.X - 2.5, Y: at.Y - 2, W: 5, H: 4})
		}
	}
}

// distrustedDepths are the depths as read where the table says not to trust them: a thin
// dashed line, for it is not the line that lies there.
func (p *profileView) distrustedDepths() {
	f := p.font(paper.Bold, 0.95)
	for _, run := range parted(p.knownRuns(false), true, func(q profilePoint) bool { return q.distrusted }) {
		path := make([]plan.Pt, len(run))
		for i, q := range run {
			path[i] = p.at(q.stationM, q.lineM())
		}
		p.c.Path(path, unheldPen)
		p.board.Ink(path, 2)
		p.used[signUnheld] = true
		r, ok := p.span(run[0].stationM, run[len(run)-1].stationM)
		const s = "DO NOT TRUST"
		w := p.c.Width(s, f) + 1.5
		if !ok || r.W < w {
			continue
		}
		r.Y, r.H = r.Y+1, r.H-2
		at := plan.Pt{X: r.Center().X, Y: p.freeFor(w, r)}
		p.plate(at, plan.Pt{X: 1}, w, 3)
		p.c.TextAlong(at, plan.Pt{X: 1}, s, f)
		p.board.Take(plan.Rect{X: at.X - w/2, Y: at.Y - 1.5, W: w, H: 3})
	}
}

// heldRuns parts runs into the stretches where the depth may be told with a band, or into
// those where it may not.
func (p *profileView) heldRuns(runs [][]profilePoint, unheld bool) [][]profilePoint {
	return parted(runs, unheld, func(q profilePoint) bool { return q.unheld })
}

// parted parts runs into the stretches of which something holds, or into those of which it
// does not.
func parted(runs [][]profilePoint, want bool, holds func(profilePoint) bool) [][]profilePoint {
	var out [][]profilePoint
	for _, run := range runs {
		var cur []profilePoint
		for i := 1; i < len(run); i++ {
			if a, b := run[i-1], run[i]; (holds(a) || holds(b)) == want {
				if cur == nil {
					cur = append(cur, a)
				}
				cur = append(cur, b)
				continue
			}
			if cur != nil {
				out = append(out, cur)
			}
			cur = nil
		}
		if cur != nil {
			out = append(out, cur)
		}
	}
	return out
}

// knownRuns returns the stretches on which depth, and band where asked for, are
// known at every vertex.
func (p *profileView) knownRuns(band bool) [][]profilePoint {
	var out [][]profilePoint
	for _, run := range p.points {
		var cur []profilePoint
		for _, q := range append(run[:len(run):len(run)], profilePoint{depthM: trace.Unknown}) {
			if trace.Known(q.depthM) && (!band || trace.Known(q.bandM)) {
				cur = append(cur, q)
				continue
			}
			if len(cur) > 1 {
				out = append(out, cur)
			}
			cur = nil
		}
	}
	return out
}

func (p *profileView) groundLine() {
	p.used[signGround] = true
	if !p.elevation {
		path := []plan.Pt{{X: p.plot.X, Y: p.y(0)}, {X: p.plot.Right(), Y: p.y(0)}}
		p.c.Path(path, groundPen)
		p.board.Ink(path, 4)
		return
	}
	for _, run := range p.points {
		var path []plan.Pt
		for _, q := range run {
			if trace.Known(q.groundM) {
				path = append(path, p.at(q.stationM, q.groundM))
			}
		}
		p.c.Path(path, groundPen)
		p.board.Ink(path, 4)
	}
}
