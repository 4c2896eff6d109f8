package export

import (
	"math"
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
	"loamline/trace"
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
	for _, n := range p.findings {
		f, ok := n.Finding.(trace.BleedOver)
		if r, shown := p.span(f.FromM, f.ToM); ok && shown && f.Line == p.line.Setup.Name {
			p.c.Box(r, paper.Gray(238))
			foot := []plan.Pt{{X: r.X, Y: r.Bottom() - 1.5}, {X: r.Right(), Y: r.Bottom() - 1.5}}
			p.hatch(foot, 1.5, 1.5, f.Grade)
			p.board.Take(plan.Rect{X: r.X, Y: r.Bottom() - 3, W: r.W, H: 3})
		}
	}
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

func (p *profileView) bottomM() float64 { return p.topM - p.plot.H/p.vertical.MMPerM() }

func (p *profileView) heightLines() {
	pen := paper.Pen{WidthMM: 0.1, Color: paper.Gray(165)}
	for _, h := range plan.Ticks(p.bottomM(), p.topM, depthStepM(p.u, p.vertical.MMPerM())) {
		p.c.Line(plan.Pt{X: p.plot.X, Y: p.y(h)}, plan.Pt{X: p.plot.Right(), Y: p.y(h)}, pen)
	}
	for _, s := range p.stations() {
		p.c.Line(plan.Pt{X: p.x(s), Y: p.plot.Y}, plan.Pt{X: p.x(s), Y: p.plot.Bottom()}, pen)
	}
}

// heightLabels writes depths below ground, or elevations.
func (p *profileView) heightLabels() {
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

// bands fills the 95 % band of the depth.
func (p *profileView) bands() {
	for _, run := range p.knownRuns(true) {
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
	for _, run := range p.knownRuns(false) {
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

// readingDepths dots the depths that the receiver showed.
func (p *profileView) readingDepths() {
	last := plan.Pt{X: -1e9}
	for k := range p.line.Readings {
		r := &p.line.Readings[k]
		if !trace.Known(r.StationM) || !trace.Known(r.DepthM) || !p.within(r.StationM) {
			continue
		}
		at := p.at(r.StationM, p.ground(r.StationM)-r.DepthM)
		switch {
		case r.Status == trace.StatusUsed && !r.DepthDropped:
			if at.Sub(last).Norm() < 0.4 {
				continue
			}
			last = at
			p.c.Disc(at, 0.35, paper.Black, paper.Pen{WidthMM: 0.1})
		case r.Status == trace.StatusUsed, r.Status == trace.StatusSetAside:
			p.crossMark(at)
		default:
			continue
		}
		p.used[signDepthReading] = true
	}
}

// exposed marks measured depths.
func (p *profileView) exposed() {
	for k := range p.line.Readings {
		r := &p.line.Readings[k]
		if r.Status != trace.StatusExposed || !trace.Known(r.StationM) || !trace.Known(r.DepthM) || !p.within(r.StationM) {
			continue
		}
		at := p.at(r.StationM, p.ground(r.StationM)-r.DepthM)
		if !at.Finite() || !p.plot.Contains(at) {
			continue
		}
		p.exposedMark(at)
		p.used[signExposed] = true
		p.board.Take(plan.Rect{X: at.X - 1.4, Y: at.Y - 1.4, W: 2.8, H: 2.8})
		p.words(at, "exposed, measured "+p.u.Short(r.DepthM))
	}
}

// words puts a short text near a place in the plot.
func (p *profileView) words(at plan.Pt, s string) {
	f := p.font(paper.Regular, 0.88)
	s = p.c.Fit(s, f, 46)
	w, h := p.c.Width(s, f)+1, f.LineMM()+0.4
	r, _, ok := p.board.Place([]plan.Pt{at}, w, h, 2, 22)
	if !ok {
		return
	}
	foot := r.Nearest(at)
	if foot.Sub(at).Norm() > 3 {
		p.c.Line(at, foot, leaderPen)
	}
	p.c.Box(r, paper.White)
	p.c.Lines(r.X+0.5, r.Y+0.2, []string{s}, f)
}

// crossingLines shows the lines that cross, each at its own read depth.
func (p *profileView) crossingLines() {
	for _, o := range p.others() {
		at := p.at(o.stationM, o.heightM)
		if trace.Known(o.depthM) && at.Finite() && p.plot.Contains(at) {
			if trace.Known(o.depth95M) {
				p.c.Line(p.at(o.stationM, o.heightM-o.depth95M), p.at(o.stationM, math.Min(o.heightM+o.depth95M, o.heightM+o.depthM)), markPen)
			}
			p.otherMark(at)
			p.board.Take(plan.Rect{X: at.X - 1.2, Y: at.Y - 1.2, W: 2.4, H: 2.4})
			p.words(at, o.name+", "+DepthLabel(p.u, o.depthM, o.depth95M))
			p.used[signOtherLine] = true
			continue
		}
		a, b := plan.Pt{X: p.x(o.stationM), Y: p.plot.Y}, plan.Pt{X: p.x(o.stationM), Y: p.plot.Bottom()}
		p.c.Line(a, b, paper.Pen{WidthMM: 0.25, Color: paper.Black, DashMM: []float64{1.4, 1}})
		p.words(plan.Pt{X: a.X, Y: p.plot.Y + 3}, o.name+", depth not read")
	}
}

// voids frames the stretches without a depth.
func (p *profileView) voids() {
	at := p.sh.strip.FromM
	for _, run := range p.knownRuns(false) {
		p.void(at, run[0].stationM)
		at = run[len(run)-1].stationM
	}
	p.void(at, p.sh.strip.ToM)
}

func (p *profileView) void(fromM, toM float64) {
	r, ok := p.span(fromM, toM)
	if !ok || r.W < 0.8 {
		return
	}
	p.used[signDepthGap] = true
	r = plan.Rect{X: r.X, Y: r.Y + 1, W: r.W, H: r.H - 2}
	p.c.Frame(r, gapPen)
	s := "depth not read"
	if _, ok := p.line.at((fromM + toM) / 2); !ok {
		s = "NOT TRACED"
	}
	f := p.font(paper.Bold, 0.95)
	dir, w := plan.Pt{X: 1}, p.c.Width(s, f)
	if w > r.W-1 {
		dir = plan.Pt{Y: -1}
	}
	at := r.Center()
	if dir.Y == 0 {
		at.Y = r.Bottom() - 7
	}
	p.plate(at, dir, w+1.5, 3)
	p.c.TextAlong(at, dir, s, f)
	p.board.Take(r)
}

// numbers writes the findings' numbers over their stretches.
func (p *profileView) numbers() {
	for _, n := range p.findings {
		var from, to float64
		switch f := n.Finding.(type) {
		case trace.BleedOver:
			from, to = f.FromM, f.ToM
		case trace.Gap:
			from, to = f.FromM, f.ToM
		default:
			continue
		}
		if r, ok := p.span(from, to); ok && n.OnLine() == p.line.Setup.Name {
			at := plan.Pt{X: r.Center().X, Y: p.plot.Y + 2.2}
			p.numberDisc(at, n.no)
			p.board.Take(plan.Rect{X: at.X - 2, Y: at.Y - 2, W: 4, H: 4})
			p.used[signNumber] = true
		}
	}
}

// matchEnds repeats the match lines of the plan.
func (p *profileView) matchEnds() {
	ends := []struct {
		stationM float64
		sheet    int
		drawn    bool
	}{{p.sh.strip.FromM, p.sh.no - 1, p.sh.no > p.line.first}, {p.sh.strip.ToM, p.sh.no + 1, p.sh.no < p.line.last}}
	for _, e := range ends {
		if e.drawn {
			x := p.x(e.stationM)
			p.c.Line(plan.Pt{X: x, Y: p.plot.Y - 1}, plan.Pt{X: x, Y: p.plot.Bottom() + 1}, matchPen)
		}
	}
}
