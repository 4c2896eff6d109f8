package export

import (
	"math"
	"strconv"
	"strings"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
)

// checks lists what to check before digging, each with a box to tick, then what
// is to be known of the sheet's line. What finds no room is named as being in
// the notes, never left out silently.
func (d *drafter) checks(r plan.Rect, sh *drawnSheet) {
	y := d.heading(r, "CHECK BEFORE DIGGING")
	list := d.checkList(sh)
	boxes := len(list)
	list = append(list, d.lineNotes(sh)...)
	f := d.checkFont(list, plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y})
	for i, s := range list {
		lines := d.c.Wrap(sentence(s), f, r.W-checkTabMM)
		room := r.Bottom() - y
		if i < len(list)-1 {
			room -= 2 * f.LineMM()
		}
		if float64(len(lines))*f.LineMM() > room {
			more := "and " + strconv.Itoa(len(list)-i) + " more: see the notes, " + d.notesWords()
			bold := d.font(paper.Bold, 1)
			d.c.Lines(r.X+checkTabMM, y, d.c.WrapTo(more, bold, r.W-checkTabMM, 2), bold)
			return
		}
		if i < boxes {
			d.c.Frame(plan.Rect{X: r.X + 0.2, Y: y + 0.35, W: f.SizePt * 0.3, H: f.SizePt * 0.3}, thinPen)
		}
		y = d.c.Lines(r.X+checkTabMM, y, lines, f) + checkGapMM
	}
}

const (
	checkTabMM = 4.8
	checkGapMM = 0.8
)

// checkFont is the largest type in which the list fits: it is read in the rain.
func (d *drafter) checkFont(list []string, r plan.Rect) paper.Font {
	for _, factor := range []float64{1.4, 1.25, 1.12} {
		f := d.font(paper.Regular, factor)
		h := 0.0
		for _, s := range list {
			h += float64(len(d.c.Wrap(sentence(s), f, r.W-checkTabMM)))*f.LineMM() + checkGapMM
		}
		if h <= r.H {
			return f
		}
	}
	return d.font(paper.Regular, 1)
}

// checkList is the job's advice, that for the sheet's own line first, and what
// found no room on the plan.
func (d *drafter) checkList(sh *drawnSheet) []string {
	var own, rest []string
	for _, s := range d.s.Advice {
		if sh.kind == stripSheet && strings.HasPrefix(s, d.lines[sh.line].Setup.Name) {
			own = append(own, s)
		} else {
			rest = append(rest, s)
		}
	}
	for _, n := range d.unplaced {
		own = append(own, "Number "+strconv.Itoa(n.no)+" on this plan, "+n.OnLine()+": "+FindingTitle(d.u, n.Finding))
	}
	if list := append(own, rest...); len(list) > 0 {
		return list
	}
	return []string{d.noAdvice()}
}

// lineNotes is what people must know of the fit of a strip's line.
func (d *drafter) lineNotes(sh *drawnSheet) []string {
	if sh.kind != stripSheet {
		return nil
	}
	l := &d.lines[sh.line]
	var out []string
	for _, s := range l.Centerline.Notes {
		out = append(out, "Of "+l.Setup.Name+": "+s)
	}
	return out
}

// noAdvice stands where a job lists nothing to check.
func (d *drafter) noAdvice() string {
	if d.strips() == 0 {
		return "Nothing was traced on this job: have the lines located before any digging."
	}
	return "No particular check is listed for this job. Follow the cautions: expose every line before digging near it."
}

// notesWords names the sheets with the notes.
func (d *drafter) notesWords() string {
	first := 0
	for _, sh := range d.sheets {
		if sh.kind == notesSheet && first == 0 {
			first = sh.no
		}
	}
	return sheetsWords(first, len(d.sheets))
}

// keyHeight is the room for the key plan: none where there is but one drawing.
func (d *drafter) keyHeight(sh *drawnSheet, r plan.Rect) float64 {
	if sh.kind != stripSheet || d.strips() < 2 {
		return 0
	}
	return math.Max(18, math.Min(r.W*0.5, r.H*0.4))
}

// key draws all lines small, north up; this sheet's stretch stands out and its
// window is grey.
func (d *drafter) key(r plan.Rect, sh *drawnSheet) {
	y := d.heading(r, "KEY PLAN, north up")
	win := plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	view, ok := d.fitView(win, 4)
	if !ok {
		return
	}
	w, h, _ := plan.Bounds(d.extent(), 0)
	in := win.Inset(5)
	// A key needs no round scale: it is not measured.
	view.Scale = plan.Scale(math.Max(1, 1000*math.Max(w/in.W, h/in.H)))
	p := &planView{drafter: d, View: view, sh: &drawnSheet{kind: overviewSheet}, board: plan.NewBoard(win.Inset(0.8)), clip: win.Inset(-2)}
	d.c.Clip(win, func() {
		d.c.Area([][]plan.Pt{p.sheetRing(sh)}, paper.Gray(222))
		for i := range d.lines {
			for _, run := range p.runs(d.lines[i].path.Points) {
				d.c.Path(run, paper.Pen{WidthMM: 0.3, Color: paper.Black})
				p.board.Ink(run, 1)
			}
		}
		for _, run := range p.runs(d.lines[sh.line].path.Slice(sh.strip.FromM, sh.strip.ToM)) {
			d.c.Path(run, paper.Pen{WidthMM: 1.1, Color: paper.Black})
			p.board.Ink(run, 3)
		}
		p.keyNumbers(sh)
	})
	d.c.Frame(win, thinPen)
}

// sheetRing is the outline of a strip's window.
func (p *planView) sheetRing(sh *drawnSheet) []plan.Pt {
	v := plan.View{Window: p.lay.window(p.bandMM()), Scale: sh.scale, Center: sh.strip.Center, AngleRad: sh.strip.AngleRad}
	var ring []plan.Pt
	for _, q := range v.Corners() {
		ring = append(ring, p.Paper(q))
	}
	return ring
}

// keyNumbers numbers the strips, this sheet's first.
func (p *planView) keyNumbers(sh *drawnSheet) {
	for pass := range 2 {
		for i := range p.sheets {
			k := &p.sheets[i]
			if k.kind != stripSheet || (k.no == sh.no) != (pass == 0) {
				continue
			}
			f := p.font(paper.Regular, 0.8)
			if k.no == sh.no {
				f = p.font(paper.Bold, 1.1)
			}
			s := strconv.Itoa(k.no)
			mid := p.lines[k.line].path.At((k.strip.FromM + k.strip.ToM) / 2)
			if at, _, ok := p.board.Place([]plan.Pt{p.Paper(mid)}, p.c.Width(s, f)+0.6, f.SizePt*0.28+0.4, 0.8, 6); ok {
				p.c.Text(plan.Pt{X: at.X + 0.3, Y: at.Bottom() - 0.2}, s, f, paper.Left)
			}
		}
	}
}

// fitView shows the whole job north up in a window.
func (d *drafter) fitView(win plan.Rect, insetMM float64) (plan.View, bool) {
	points := d.extent()
	if len(points) == 0 {
		return plan.View{}, false
	}
	w, h, center := plan.Bounds(points, 0)
	in := win.Inset(insetMM)
	return plan.View{Window: win, Scale: plan.Finest(d.u, w, h, in.W, in.H), Center: center}, true
}

// extent returns the points that an overview must hold: the lines and their
// zones, or the readings where no line was drawn. Records and readings that
// were set aside may lie anywhere and do not count.
func (d *drafter) extent() []geo.XY {
	var out []geo.XY
	for i := range d.lines {
		l := &d.lines[i]
		out = append(out, l.path.Points...)
		for _, poly := range l.Caution.Area {
			for _, ring := range poly {
				for _, q := range ring {
					out = append(out, geo.XY{X: q[0], Y: q[1]})
				}
			}
		}
	}
	if len(out) == 0 {
		out = d.readingExtent()
	}
	return out
}

// readingExtent returns the placed readings within 500 m of their median place.
func (d *drafter) readingExtent() []geo.XY {
	var all []geo.XY
	for _, l := range d.lines {
		for k := range l.Readings {
			if r := &l.Readings[k]; placed(r) && r.Pos != (geo.XY{}) {
				all = append(all, r.Pos)
			}
		}
	}
	mid := medianPlace(all)
	var out []geo.XY
	for _, q := range all {
		if q.Dist(mid) < 500 {
			out = append(out, q)
		}
	}
	return out
}
