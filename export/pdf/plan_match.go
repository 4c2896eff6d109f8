package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// match is where a strip ends and a sheet goes on.
type match struct {
	stationM float64
	to       *drawnSheet
	out      float64 // 1 where it goes on along the line, -1 where it came from
}

// matchLayer is where a strip ends and another sheet goes on.
type matchLayer struct{ *planView }

// all are the ends of a strip.
func (p *matchLayer) all() (out []match) {
	if !p.strip() {
		return nil
	}
	if k := p.beside(p.sh, -1); k != nil {
		out = append(out, match{p.sh.strip.FromM, k, -1})
	}
	if k := p.beside(p.sh, 1); k != nil {
		out = append(out, match{p.sh.strip.ToM, k, 1})
	}
	return out
}

// draw marks where a strip ends and which sheet goes on.
func (p *matchLayer) draw() {
	for _, m := range p.all() {
		runs, dir := p.runsOf(m)
		for _, run := range runs {
			p.c.Path(run, matchPen)
			p.board.Ink(run, 2)
			p.used[signMatch] = true
			p.writeAlong(run, dir.Scale(m.out), "match line "+p.u.Long(m.stationM)+", "+whereWords(p.sh, m.to))
		}
	}
}

// halfMM is how far a match line reaches to either side: past the words
// that run along it, clear of the line itself.
func (p *matchLayer) halfMM(l *drawnLine, stationM float64) float64 {
	return p.c.Width("match line "+p.u.Long(stationM)+", see sheet 88", p.font(paper.Bold, 0.95)) + 6
}

// runsOf is the match line on paper, and which way the line goes there.
func (p *matchLayer) runsOf(m match) ([][]plan.Pt, plan.Pt) {
	l := &p.lines[p.sh.line]
	at := p.Paper(l.path.At(m.stationM))
	ahead := p.Paper(l.path.At(m.stationM).Add(l.path.Direction(m.stationM)))
	dir := ahead.Sub(at).Unit()
	half := dir.Normal().Scale(p.halfMM(l, m.stationM))
	return plan.ClipPath([]plan.Pt{at.Sub(half), at.Add(half)}, p.Window.Inset(1)), dir
}

// writeAlong runs the words along the match line, beyond it where that is in the window,
// at one of its ends.
func (p *matchLayer) writeAlong(run []plan.Pt, out plan.Pt, s string) {
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
func (p *matchLayer) costAlong(at, dir plan.Pt, wMM, hMM float64) float64 {
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
func (p *matchLayer) takeAlong(at, dir plan.Pt, wMM, hMM float64) {
	n := math.Max(1, math.Ceil(wMM/3))
	for k := range int(n) + 1 {
		q := at.Add(dir.Scale((float64(k)/n - 0.5) * wMM))
		p.board.Take(plan.Rect{X: q.X - hMM/2, Y: q.Y - hMM/2, W: hMM, H: hMM})
	}
}
