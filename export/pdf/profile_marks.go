package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// readingDepths dots the depths that the receiver showed.
func (p *profileDrawing) readingDepths() {
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
			if edge := p.plot.Bottom() - 4.5; at.Y > edge+3 { // far below the line: told where it would lie
				at.Y = edge
				p.words(at, "depth not used: "+p.u.Short(r.DepthM))
			}
			p.crossMark(at)
		default:
			continue
		}
		p.used[signDepthReading] = true
	}
}

// exposed marks measured depths.
func (p *profileDrawing) exposed() {
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
func (p *profileDrawing) words(at plan.Pt, s string) {
	f := p.font(paper.Regular, 0.88)
	s = p.c.Fit(s, f, 62)
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
func (p *profileDrawing) crossingLines() {
	for _, o := range p.others() {
		at := p.at(o.stationM, o.heightM)
		if trace.Known(o.depthM) && at.Finite() && p.plot.Contains(at) {
			if trace.Known(o.depth95M) {
				p.c.Line(p.inPlot(p.at(o.stationM, o.heightM-o.depth95M)), p.inPlot(p.at(o.stationM, math.Min(o.heightM+o.depth95M, o.heightM+o.depthM))), markPen)
			}
			p.otherMark(at)
			p.board.Take(plan.Rect{X: at.X - 1.2, Y: at.Y - 1.2, W: 2.4, H: 2.4})
			p.words(at, o.name+", "+o.label)
			p.used[signOtherLine] = true
			continue
		}
		a, b := plan.Pt{X: p.x(o.stationM), Y: p.plot.Y}, plan.Pt{X: p.x(o.stationM), Y: p.plot.Bottom()}
		p.c.Line(a, b, paper.Pen{WidthMM: 0.25, Color: paper.Black, DashMM: []float64{1.4, 1}})
		unread := "depth not read"
		if o.label != "" {
			unread = o.label
		}
		p.words(plan.Pt{X: a.X, Y: p.plot.Y + 3}, o.name+", "+unread)
	}
}

// voids frames the stretches without a depth.
func (p *profileDrawing) voids() {
	at := p.sh.strip.FromM
	for _, run := range p.knownRuns(false) {
		p.void(at, run[0].stationM)
		at = run[len(run)-1].stationM
	}
	p.void(at, p.sh.strip.ToM)
}

func (p *profileDrawing) void(fromM, toM float64) {
	r, ok := p.span(fromM, toM)
	if !ok || r.W < 0.8 {
		return
	}
	p.used[signDepthGap] = true
	r = plan.Rect{X: r.X, Y: r.Y + 1, W: r.W, H: r.H - 2}
	p.c.Frame(r, gapPen)
	s := "depth not read"
	if middle := (fromM + toM) / 2; p.line.Centerline.Way(middle) {
		s = "way back over a branch"
	} else if _, ok := p.line.at(middle); !ok {
		s = "NOT TRACED"
	}
	f := p.font(paper.Bold, 0.95)
	dir, w := plan.Pt{X: 1}, p.c.Width(s, f)
	if w > r.W-1 {
		dir = plan.Pt{Y: -1}
	}
	at := r.Center()
	if dir.Y == 0 {
		at.Y = p.freeFor(w+1.5, r)
	}
	p.plate(at, dir, w+1.5, 3)
	p.c.TextAlong(at, dir, s, f)
	p.board.Take(r)
}

// freeFor is the height nearest to the foot of a stretch at which words so wide lie
// on no others.
func (p *profileDrawing) freeFor(wMM float64, r plan.Rect) float64 {
	foot := r.Bottom() - 7
	for y := foot; y > r.Y+3; y -= 4 {
		if _, free := p.board.Cost(plan.Rect{X: r.Center().X - wMM/2, Y: y - 1.5, W: wMM, H: 3}); free {
			return y
		}
	}
	return foot
}

// numbers writes the findings' numbers over their stretches.
func (p *profileDrawing) numbers() {
	for _, n := range p.findings {
		from, to := n.Span()
		if _, ofRecord := n.Finding.(finding.RecordDifference); ofRecord || n.no == 0 {
			continue // a record's depths are not in the profile
		}
		if r, ok := p.span(from, to); ok && n.OnLine() == p.line.Setup.Name {
			at := plan.Pt{X: r.Center().X, Y: p.plot.Y + 2.2}
			about := func(at plan.Pt) plan.Rect { return plan.Rect{X: at.X - 2, Y: at.Y - 2, W: 4, H: 4} }
			for _, aside := range []float64{0, 5, -5, 10, -10} { // beside the number of another that is found there
				if _, free := p.board.Cost(about(at.Add(plan.Pt{X: aside}))); free && math.Abs(aside) <= r.W/2 {
					at.X += aside
					break
				}
			}
			p.numberDisc(at, n.no)
			p.board.Take(about(at))
			p.used[signNumber] = true
		}
	}
}

// matchEnds repeats the match lines of the plan.
func (p *profileDrawing) matchEnds() {
	for _, e := range []struct {
		step     int
		stationM float64
	}{{-1, p.sh.strip.FromM}, {1, p.sh.strip.ToM}} {
		if p.beside(p.sh, e.step) != nil {
			x := p.x(e.stationM)
			p.c.Line(plan.Pt{X: x, Y: p.plot.Y - 1}, plan.Pt{X: x, Y: p.plot.Bottom() + 1}, matchPen)
		}
	}
}
