package export

import (
	"math"
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/trace"
)

// weight is how boldly a line is drawn: the sheet's own line more so.
func (p *planView) weight(line int) float64 {
	switch {
	case !p.strip():
		return 0.7
	case line == p.sh.line:
		return 0.85
	}
	return 0.55
}

// centerlines draws gaps, then the lines of the others, then the sheet's own.
func (p *planView) centerlines() {
	for i := range p.lines {
		p.gaps(&p.lines[i])
	}
	for pass := range 2 {
		for i := range p.lines {
			if own := p.strip() && i == p.sh.line; own == (pass == 1) {
				p.centerline(i)
			}
		}
	}
}

func (p *planView) centerline(i int) {
	l := &p.lines[i]
	if l.Centerline == nil {
		return
	}
	for _, part := range l.Centerline.Parts {
		runs := p.runs(part.Path())
		p.utilityLine(runs, l.style, p.weight(i))
		for _, run := range runs {
			p.board.Ink(run, 5)
			p.codes(run, l.style)
		}
	}
}

// codeEveryMM is the distance between the letter codes of a line on paper.
const codeEveryMM = 46

func (p *planView) codes(run []plan.Pt, st Style) {
	w := plan.NewWalk(run)
	n := math.Max(1, math.Round(w.Length()/codeEveryMM))
	if w.Length() < 6 {
		return
	}
	for k := range int(n) {
		for _, t := range []float64{0.37, 0.5, 0.25, 0.62, 0.12, 0.8} {
			at, dir := w.At((float64(k) + t) / n * w.Length())
			if p.inside(at, 3) && p.free(at, 5, 4) {
				p.codeOnLine(at, dir, st)
				break
			}
		}
		if k%2 == 1 {
			continue
		}
		for _, t := range []float64{0.55, 0.45, 0.7, 0.85} {
			at, dir := w.At((float64(k) + t) / n * w.Length())
			if p.inside(at, 3) && p.free(at, 3.4, 3.4) {
				p.travelMark(at, dir)
				break
			}
		}
	}
}

// free takes a place about a point if nothing is there.
func (p *planView) free(at plan.Pt, wMM, hMM float64) bool {
	r := plan.Rect{X: at.X - wMM/2, Y: at.Y - hMM/2, W: wMM, H: hMM}
	_, ok := p.board.Cost(r)
	if ok {
		p.board.Take(r)
	}
	return ok
}

func (p *planView) gaps(l *drawnLine) {
	for _, f := range l.Findings {
		g, ok := f.(trace.Gap)
		if !ok {
			continue
		}
		for _, run := range p.runs(g.Path) {
			p.c.Path(run, gapPen)
			p.board.Ink(run, 2)
			p.used[signGap] = true
		}
	}
	if l.Centerline == nil {
		return
	}
	// A step between parts that no finding speaks of is a gap all the same.
	for i := 1; i < len(l.Centerline.Parts); i++ {
		a, b := l.Centerline.Parts[i-1].Path(), l.Centerline.Parts[i].Path()
		for _, run := range p.runs(append(a[len(a)-1:], b[0])) {
			p.c.Path(run, gapPen)
			p.used[signGap] = true
		}
	}
}

// names writes the name of every line that shows beside it.
func (p *planView) names() {
	for i := range p.lines {
		l := &p.lines[i]
		if !l.traced() {
			continue
		}
		var runs [][]plan.Pt
		for _, part := range l.Centerline.Parts {
			runs = append(runs, p.runs(part.Path())...)
		}
		run := longestRun(runs, p.Window)
		if len(run) < 2 {
			continue
		}
		f := p.font(paper.Bold, 1)
		f.Color = paper.Hex(l.style.InkHex)
		name := p.c.Fit(l.Setup.Name+" ("+l.style.Code+")", f, 48)
		lines := []string{name}
		if p.strip() && i != p.sh.line {
			if words := sheetsWords(l.first, l.last); words != "" {
				lines = append(lines, "see "+words)
			}
		}
		p.label(run, lines, f, 1.5, 26)
	}
}

// sheetsWords names a range of sheets.
func sheetsWords(first, last int) string {
	switch {
	case first == 0:
		return ""
	case first == last:
		return "sheet " + strconv.Itoa(first)
	}
	return "sheets " + strconv.Itoa(first) + " to " + strconv.Itoa(last)
}

// matchLines marks where a strip ends and which sheet goes on.
func (p *planView) matchLines() {
	if !p.strip() {
		return
	}
	l := &p.lines[p.sh.line]
	if p.sh.no > l.first {
		p.matchLine(l, p.sh.strip.FromM, p.sh.no-1)
	}
	if p.sh.no < l.last {
		p.matchLine(l, p.sh.strip.ToM, p.sh.no+1)
	}
}

// matchHalfMM is how far a match line reaches to either side: past the words
// that run along it, clear of the line itself.
func (p *planView) matchHalfMM(l *drawnLine, stationM float64) float64 {
	return p.c.Width("match line "+p.u.Long(stationM)+", see sheet 88", p.font(paper.Bold, 0.95)) + 6
}

func (p *planView) matchLine(l *drawnLine, stationM float64, sheet int) {
	at := p.Paper(l.path.At(stationM))
	ahead := p.Paper(l.path.At(stationM).Add(l.path.Direction(stationM)))
	dir := ahead.Sub(at).Unit()
	n := dir.Normal()
	half := p.matchHalfMM(l, stationM)
	a, b := at.Sub(n.Scale(half)), at.Add(n.Scale(half))
	for _, run := range plan.ClipPath([]plan.Pt{a, b}, p.Window.Inset(1)) {
		p.c.Path(run, matchPen)
		p.board.Ink(run, 2)
		p.used[signMatch] = true
		out := dir
		if sheet < p.sh.no {
			out = dir.Scale(-1)
		}
		p.matchWords(run, out, "match line "+p.u.Long(stationM)+", see sheet "+strconv.Itoa(sheet))
	}
}

// matchWords runs along the match line, beyond it where that is in the window,
// at one of its ends.
func (p *planView) matchWords(run []plan.Pt, out plan.Pt, s string) {
	f := p.font(paper.Bold, 0.95)
	w := plan.NewWalk(run)
	long := p.c.Width(s, f)
	for _, side := range []float64{2.6, -2.6} {
		for _, mm := range []float64{long/2 + 1, w.Length() - long/2 - 1} {
			on, dir := w.At(mm)
			at := on.Add(out.Scale(side))
			half := dir.Scale(long/2 + 1)
			if p.inside(at.Add(half), 2) && p.inside(at.Sub(half), 2) {
				p.c.TextAlong(at, dir, s, f)
				p.takeAlong(at, dir, long, f.LineMM())
				return
			}
		}
	}
	on, _ := w.At(w.Length() / 2)
	p.words([]plan.Pt{on}, []string{s}, f, 3, 30)
}

// takeAlong reserves the place of a turned text.
func (p *planView) takeAlong(at, dir plan.Pt, wMM, hMM float64) {
	n := math.Max(1, math.Ceil(wMM/3))
	for k := range int(n) + 1 {
		q := at.Add(dir.Scale((float64(k)/n - 0.5) * wMM))
		p.board.Take(plan.Rect{X: q.X - hMM/2, Y: q.Y - hMM/2, W: hMM, H: hMM})
	}
}
