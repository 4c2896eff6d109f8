package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// profileDrawing is a profile while it is drawn in its room.
type profileDrawing struct {
	*profileView
	*marker
	room  plan.Rect
	board *plan.Board
}

func newProfileDrawing(rooms *stripRooms, m *marker, r plan.Rect, view plan.View, sh *drawnSheet) *profileDrawing {
	p := &profileDrawing{profileView: rooms.profileOf(r, view, sh), marker: m, room: r}
	p.chooseHeights(rooms.heightsOf(sh))
	p.board = plan.NewBoard(plan.Rect{X: r.X + 1, Y: p.plot.Y, W: r.W - 2, H: p.plot.H})
	for _, x := range []float64{p.plot.X - 11, p.plot.Right()} {
		p.board.Take(plan.Rect{X: x, Y: p.plot.Y, W: 11, H: p.plot.H}) // the heights' figures
	}
	return p
}

func (p *profileDrawing) draw() {
	r := p.room
	p.head(r)
	p.drawPlot()
	_, rowMM, tableMM := profileRows(p.lay)
	p.table(plan.Rect{X: r.X, Y: r.Bottom() - tableMM, W: r.W, H: tableMM}, rowMM)
}

// head says what the profile shows and what it does not promise.
func (p *profileDrawing) head(r plan.Rect) {
	f, g := p.font(paper.Bold, 1), p.font(paper.Regular, 0.95)
	title := p.c.Fit("Profile of "+p.line.Setup.Name, f, r.W*0.3)
	y := r.Y + f.LineMM() + 0.2
	p.c.Text(plan.Pt{X: r.X + 2, Y: y}, title, f, paper.Left)
	words := "along " + p.sh.scale.Words(p.u) + ", heights " + p.vertical.Words(p.u) + " (" + exaggeration(p.sh.scale, p.vertical) + "). " +
		"Depth to centre; estimates; expose to verify."
	if !p.elevation {
		words += " Ground drawn level: no elevations."
	}
	x := r.X + 4 + p.c.Width(title, f)
	p.c.Text(plan.Pt{X: x, Y: y}, p.c.Fit(words, g, r.Right()-x-2), g, paper.Left)
}

func exaggeration(along, up plan.Scale) string {
	v := math.Round(float64(along)/float64(up)*100) / 100
	if v == 1 {
		return "not exaggerated"
	}
	return "exaggerated " + strconv.FormatFloat(v, 'f', -1, 64) + " times"
}

func (p *profileDrawing) drawPlot() {
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
func (p *profileDrawing) shades() {
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

// bands fills the 95 % band of the depth.
func (p *profileDrawing) bands() {
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

func (p *profileDrawing) depths() {
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
func (p *profileDrawing) distrustedDepths() {
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

func (p *profileDrawing) groundLine() {
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
