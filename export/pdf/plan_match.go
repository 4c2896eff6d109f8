package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// matchLines marks where a strip ends and which sheet goes on.
func (p *planView) matchLines() {
	if !p.strip() {
		return
	}
	l := &p.lines[p.sh.line]
	if k := p.beside(p.sh, -1); k != nil {
		p.matchLine(l, p.sh.strip.FromM, k, -1)
	}
	if k := p.beside(p.sh, 1); k != nil {
		p.matchLine(l, p.sh.strip.ToM, k, 1)
	}
}

// matchHalfMM is how far a match line reaches to either side: past the words
// that run along it, clear of the line itself.
func (p *planView) matchHalfMM(l *drawnLine, stationM float64) float64 {
	return p.c.Width("match line "+p.u.Long(stationM)+", see sheet 88", p.font(paper.Bold, 0.95)) + 6
}

func (p *planView) matchLine(l *drawnLine, stationM float64, to *drawnSheet, out float64) {
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
		p.matchWords(run, dir.Scale(out), "match line "+p.u.Long(stationM)+", "+whereWords(p.sh, to))
	}
}

// matchWords runs along the match line, beyond it where that is in the window,
// at one of its ends.
func (p *planView) matchWords(run []plan.Pt, out plan.Pt, s string) {
	f := p.font(paper.Bold, 0.95)
	w := plan.NewWalk(run)
	long := p.c.Width(s, f)
	type place struct{ at, dir plan.Pt }
	var best place
	least := math.Inf(1)
	for _, side := range []float64{2.6, -2.6} {
		for mm := long/2 + 1; mm <= w.Length()-long/2-1+1e-6; mm += 2 {
			on, dir := w.At(mm)
			at := on.Add(out.Scale(side))
			half := dir.Scale(long/2 + 1)
			if !p.inside(at.Add(half), 2) || !p.inside(at.Sub(half), 2) {
				continue
			}
			if cost := p.costAlong(at, dir, long, f.LineMM()); cost < least {
				best, least = place{at, dir}, cost
			}
		}
	}
	// Where they would run across lines they stand beside the match line instead.
	if least < acrossLines {
		p.c.TextAlong(best.at, best.dir, s, f)
		p.takeAlong(best.at, best.dir, long, f.LineMM())
		return
	}
	on, _ := w.At(w.Length() / 2)
	p.words([]plan.Pt{on}, []string{s}, f, 3, 30)
}

// acrossLines is from what cost on words are written over more than a tick.
const acrossLines = 25.0

// costAlong is what a turned text would be written over.
func (p *planView) costAlong(at, dir plan.Pt, wMM, hMM float64) float64 {
	sum, n := 0.0, math.Max(1, math.Ceil(wMM/2))
	for k := range int(n) + 1 {
		q := at.Add(dir.Scale((float64(k)/n - 0.5) * wMM))
		cost, free := p.board.Cost(plan.Rect{X: q.X - hMM/2, Y: q.Y - hMM/2, W: hMM, H: hMM})
		if sum += cost; !free {
			sum += 50
		}
	}
	return sum
}

// takeAlong reserves the place of a turned text.
func (p *planView) takeAlong(at, dir plan.Pt, wMM, hMM float64) {
	n := math.Max(1, math.Ceil(wMM/3))
	for k := range int(n) + 1 {
		q := at.Add(dir.Scale((float64(k)/n - 0.5) * wMM))
		p.board.Take(plan.Rect{X: q.X - hMM/2, Y: q.Y - hMM/2, W: hMM, H: hMM})
	}
}
