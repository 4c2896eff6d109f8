package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
	"loamline.example/trace/finding"
)

// lineLayer is the traced lines with their codes and names, and the gaps between them.
type lineLayer struct{ *planView }

// weight is how boldly a line is drawn: the sheet's own line more so.
func (p *lineLayer) weight(line int) float64 {
	switch {
	case !p.strip():
		return 0.7
	case line == p.sh.line:
		return 0.85
	}
	return 0.55
}

// draw draws gaps, then the lines of the others, then the sheet's own.
func (p *lineLayer) draw() {
	for i := range p.lines {
		p.gaps(&p.lines[i])
	}
	// All lines, then their codes: where two run close, none lies over the other's letters.
	for _, draw := range []func(i int, runs [][]plan.Pt){p.centerline, p.codesOf} {
		for pass := range 2 {
			for i := range p.lines {
				l := &p.lines[i]
				if own := p.strip() && i == p.sh.line; own != (pass == 1) || l.Centerline == nil || !p.mayShow(l) {
					continue
				}
				for _, part := range l.Centerline.Parts {
					draw(i, p.runs(part.Path()))
				}
			}
		}
	}
}

func (p *lineLayer) centerline(i int, runs [][]plan.Pt) {
	p.utilityLine(runs, p.lines[i].style, p.weight(i))
	for _, run := range runs {
		p.board.Ink(run, 5)
	}
}

func (p *lineLayer) codesOf(i int, runs [][]plan.Pt) {
	for _, run := range runs {
		p.codes(run, p.lines[i].style)
	}
}

// codeEveryMM is the distance between the letter codes of a line on paper.
const codeEveryMM = 46

func (p *lineLayer) codes(run []plan.Pt, st style.Style) {
	w := plan.NewWalk(run)
	n := math.Max(1, math.Round(w.Length()/codeEveryMM))
	if w.Length() < 6 {
		return
	}
	for k := range int(n) {
		for _, t := range []float64{0.37, 0.5, 0.25, 0.62, 0.12, 0.8} {
			at, dir := w.At((float64(k) + t) / n * w.Length())
			if w, h := p.codeSize(dir, st); p.inside(at, 3) && p.free(at, w, h) {
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
func (p *lineLayer) free(at plan.Pt, wMM, hMM float64) bool {
	r := plan.Rect{X: at.X - wMM/2, Y: at.Y - hMM/2, W: wMM, H: hMM}
	_, ok := p.board.Cost(r)
	if ok {
		p.board.Take(r)
	}
	return ok
}

func (p *lineLayer) gaps(l *drawnLine) {
	for _, f := range l.Findings {
		g, ok := f.(finding.Gap)
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
		if l.Centerline.Parts[i].Joins {
			continue
		}
		a, b := l.Centerline.Parts[i-1].Path(), l.Centerline.Parts[i].Path()
		for _, run := range p.runs(append(a[len(a)-1:], b[0])) {
			p.c.Path(run, gapPen)
			p.used[signGap] = true
		}
	}
}

// names writes the name of every line that shows beside it.
func (p *lineLayer) names() {
	for i := range p.lines {
		l := &p.lines[i]
		if !l.traced() || !p.mayShow(l) {
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
		if p.sh.kind == crewSheet {
			f = p.font(paper.Bold, 1.35)
		}
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
