package export

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
	"loamline/trace"
)

// planView is one plan on one sheet while it is drawn.
type planView struct {
	*drafter
	plan.View
	board *plan.Board
	sh    *drawnSheet
	clip  plan.Rect // a little more than the window
}

// plan draws everything of the job that falls into a window.
func (d *drafter) plan(view plan.View, sh *drawnSheet) {
	p := &planView{d, view, plan.NewBoard(view.Window.Inset(0.8)), sh, view.Window.Inset(-5)}
	d.c.Clip(view.Window, func() {
		p.zones()
		p.gridCrosses()
		p.records()
		p.suspects()
		p.keepMarks()
		p.centerlines()
		p.matchLines()
		p.sheetTags()
		p.stations()
		p.readings()
		p.transmitters()
		p.compass()
		p.crossings()
		p.exposures()
		p.checksFailed()
		p.findingLabels()
		p.names()
		p.recordNames()
	})
	p.coordinates()
	d.c.Frame(view.Window, thinPen)
}

// strip reports whether the plan is one of a line's strips.
func (p *planView) strip() bool { return p.sh.kind == stripSheet }

// inside reports whether a place lies in the window, some way from its sides.
func (p *planView) inside(q plan.Pt, marginMM float64) bool {
	return q.Finite() && p.Window.Inset(marginMM).Contains(q)
}

// runs returns what a window shows of a path on the ground.
func (p *planView) runs(path []geo.XY) [][]plan.Pt {
	return plan.ClipPath(plan.Thin(p.Path(path), thinMM), p.clip)
}

// thinMM is the least distance between the points of a drawn path: a quarter of
// the thinnest pen.
const thinMM = 0.04

// zones draws the caution zones of all lines below all tolerance zones.
func (p *planView) zones() {
	for _, l := range p.lines {
		p.area(l.Caution.Area, signCaution, func(fill, rings [][]plan.Pt) { p.c.Area(fill, cautionFill) })
	}
	for _, l := range p.lines {
		p.area(l.Caution.Area, signCaution, func(fill, rings [][]plan.Pt) { p.outline(rings, cautionPen, 0.3) })
	}
	for _, l := range p.lines {
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

// records draws the lines known from reference layers.
func (p *planView) records() {
	for _, r := range p.s.Records {
		runs := p.runs(r.Path)
		for _, run := range runs {
			p.c.Path(run, recordPen)
			p.board.Ink(run, 0.6)
			p.used[signRecord] = true
		}
	}
}

// recordNames writes the names of records beside them.
func (p *planView) recordNames() {
	for _, r := range p.s.Records {
		if run := longestRun(p.runs(r.Path), p.Window); len(run) > 1 {
			f := p.font(paper.Italic, 0.85)
			p.label(run, []string{p.c.Fit("record: "+r.Name+" ("+StyleOf(r.Utility).Code+")", f, 60)}, f, 1.2, 14)
		}
	}
}

// longestRun returns the longest of the pieces of paths within r.
func longestRun(runs [][]plan.Pt, r plan.Rect) []plan.Pt {
	var best []plan.Pt
	bestMM := 0.0
	for _, run := range runs {
		for _, in := range plan.ClipPath(run, r) {
			if l := plan.NewWalk(in).Length(); l > bestMM {
				best, bestMM = in, l
			}
		}
	}
	return best
}

// label puts words beside a path, where it is best.
func (p *planView) label(run []plan.Pt, lines []string, f paper.Font, near, far float64) bool {
	w := plan.NewWalk(run)
	var anchors []plan.Pt
	for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92} {
		at, _ := w.At(t * w.Length())
		anchors = append(anchors, at)
	}
	return p.words(anchors, lines, f, near, far)
}

// words puts lines of text near one of some anchors, with a leader where they
// stand off.
func (p *planView) words(anchors []plan.Pt, lines []string, f paper.Font, near, far float64) bool {
	w, h := p.size(lines, f)
	r, i, ok := p.board.Place(anchors, w+1, h+0.8, near, far)
	if ok {
		p.write(r, anchors[i], lines, f)
	}
	return ok
}

func (d *drafter) size(lines []string, f paper.Font) (wMM, hMM float64) {
	for _, l := range lines {
		wMM = math.Max(wMM, d.c.Width(l, f))
	}
	return wMM, float64(len(lines)) * f.LineMM()
}

func (p *planView) write(r plan.Rect, anchor plan.Pt, lines []string, f paper.Font) {
	foot := r.Nearest(anchor)
	if foot.Sub(anchor).Norm() > 3 {
		p.c.Line(anchor, foot, leaderPen)
		p.board.Ink([]plan.Pt{anchor, foot}, 2)
	}
	p.c.Box(r, paper.White)
	p.c.Lines(r.X+0.5, r.Y+0.4, lines, f)
}

// transmitters marks where the signal was put on.
func (p *planView) transmitters() {
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

// sheetTags turns an overview into the key plan: bars where strips meet, and by
// every strip the number of its sheet.
func (p *planView) sheetTags() {
	if p.strip() {
		return
	}
	for i := range p.sheets {
		sh := &p.sheets[i]
		if sh.kind != stripSheet {
			continue
		}
		l := &p.lines[sh.line]
		if sh.no > l.first {
			p.joint(l, sh.strip.FromM)
		}
		s := "sheet " + strconv.Itoa(sh.no)
		f := p.font(paper.Bold, 1)
		w, h := p.c.Width(s, f)+2, f.LineMM()+1
		at := p.Paper(l.path.At((sh.strip.FromM + sh.strip.ToM) / 2))
		if r, _, ok := p.board.Place([]plan.Pt{at}, w, h, 4, 40); ok {
			p.write(r, at, nil, f)
			p.c.Frame(r, sheetPen)
			p.c.Text(plan.Pt{X: r.Center().X, Y: r.Y + f.SizePt*0.36 + 0.3}, s, f, paper.Middle)
			p.used[signSheet] = true
		}
	}
}

// joint draws a short bar where two strips meet.
func (p *planView) joint(l *drawnLine, stationM float64) {
	at, n := p.Paper(l.path.At(stationM)), p.dir(l, stationM).Normal().Scale(3)
	p.c.Line(at.Sub(n), at.Add(n), paper.Pen{WidthMM: 0.8, Color: paper.Black})
	p.board.Ink([]plan.Pt{at.Sub(n), at.Add(n)}, 2)
	p.used[signJoint] = true
}

// reading positions that were never placed lie nowhere.
func placed(r *trace.Reading) bool {
	return !math.IsNaN(r.Pos.X) && !math.IsNaN(r.Pos.Y) && !math.IsInf(r.Pos.X, 0) && !math.IsInf(r.Pos.Y, 0)
}
