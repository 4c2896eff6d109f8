package pdf

import (
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace/finding"
)

// compassMM is the height of north arrow and scale bar with its words.
const compassMM = 16.0

// compassLeastMM is the width of its words beside the arrow.
const compassLeastMM = 58.0

// compassPlace is where north arrow and scale bar stand, and the bar's fields.
type compassPlace struct {
	plan.Rect
	stepM float64 // of a field of the bar
	n     int     // fields
	clear bool    // nothing of the job lies there
}

// Widths that the bar may have at most: the wide one where it has room.
const barMM, shortBarMM = 62, 34

// compass is north arrow and scale bar.
type compass struct{ *planView }

// place is the place for them that covers nothing of the job, or least of it. It is
// the same one while a view is looked for and when the plan is drawn.
func (p *compass) place() compassPlace {
	const besideMM = 0.8 // half a line's width and its casing
	job := p.jobAlone()
	var best compassPlace
	least := math.Inf(1)
	for _, mostMM := range []float64{barMM, shortBarMM} {
		_, stepM, n := scaleBar(p.u, p.Scale.MMPerM(), math.Min(mostMM, p.Window.W*0.3))
		w := math.Max(stepM*float64(n)*p.Scale.MMPerM()+26, compassLeastMM)
		r, ink := job.Corner(w+2*besideMM, compassMM+2*besideMM, 0.2)
		if ink < least {
			best, least = compassPlace{r.Inset(besideMM), stepM, n, ink == 0}, ink
		}
	}
	return best
}

// draw puts them there before hatching, codes and labels, which then stand elsewhere.
func (p *compass) draw() {
	r := p.place()
	unit, _, _ := scaleBar(p.u, p.Scale.MMPerM(), 1)
	step, n := r.stepM, r.n
	barMM := step * float64(n) * p.Scale.MMPerM()
	p.board.Take(r.Rect)
	if r.clear { // else what lies below is seen through it
		p.c.Box(r.Rect, paper.White)
	}
	p.northArrow(plan.Pt{X: r.X + 8, Y: r.Y + 8.2}, p.North())
	p.bar(plan.Pt{X: r.X + 18, Y: r.Y + 8}, step*p.Scale.MMPerM(), n, func(i int) string {
		return strconv.FormatFloat(math.Round(step*float64(i)/unit*1e6)/1e6, 'f', -1, 64)
	})
	f := p.font(paper.Bold, 1)
	p.c.Text(plan.Pt{X: r.X + 18, Y: r.Y + 4}, "Plan "+p.Scale.Words(p.u), f, paper.Left)
	p.c.Text(plan.Pt{X: r.X + 18, Y: r.Y + 14.8}, "bar is "+paperLength(p.u, barMM)+" long at full size", p.font(paper.Regular, 0.78), paper.Left)
}

// jobAlone is a board of what the plan may not hide: lines, gaps, zones, records, match
// lines and the arrows to the likely side. Labels, which look for room themselves, are not on it.
func (p *compass) jobAlone() *plan.Board {
	// What weighs how much: arrow and bar are read through a caution zone's grey where all is
	// grey, and not across the edge of a zone.
	const overLine, overEdge, inTolerance, inCaution = 20, 10, 5, 0.1
	b := plan.NewBoard(p.Window.Inset(0.8))
	ink := func(path []geo.XY) {
		for _, run := range p.runs(path) {
			b.Ink(run, overLine)
		}
	}
	for i := range p.lines {
		l := &p.lines[i]
		if !p.mayShow(l) {
			continue
		}
		ink(l.path.Points)
		p.area(l.Caution.Area, signCaution, func(fill, rings [][]plan.Pt) { b.Fill(fill, inCaution); inkRings(b, rings, overEdge) })
		p.area(l.Tolerance.Area, signTolerance, func(fill, rings [][]plan.Pt) { b.Fill(fill, inTolerance); inkRings(b, rings, overEdge) })
	}
	for i := range p.s.Records {
		ink(p.s.Records[i].Path)
	}
	for _, n := range p.findings {
		ink(n.Where())
		if f, ok := n.Finding.(finding.BleedOver); ok {
			for _, a := range (&suspectLayer{p.planView}).sideArrows(f) {
				b.Ink([]plan.Pt{a.at, a.at.Add(a.out.Scale(1 + sideArrowMM))}, overLine)
			}
		}
	}
	matches := matchLayer{p.planView}
	for _, m := range matches.all() {
		runs, _ := matches.runsOf(m)
		for _, run := range runs {
			b.Ink(run, overLine)
		}
	}
	return b
}

// inkRings notes the edges of an area.
func inkRings(b *plan.Board, rings [][]plan.Pt, weight float64) {
	for _, r := range rings {
		b.Ink(append(slices.Clone(r), r[0]), weight)
	}
}

// paperLength words a length on paper: "40 mm", "2 in".
func paperLength(u geo.Units, mm float64) string {
	if u == geo.US {
		return literal.Trim(mm/25.4, 2) + " in"
	}
	return literal.Trim(mm, 1) + " mm"
}

// scaleBar chooses the bar's fields: their length in metres and their number.
func scaleBar(u geo.Units, mmPerM, mostMM float64) (unitM, stepM float64, n int) {
	unitM = 1
	if u == geo.US {
		unitM = geo.FootM
	}
	n = 4
	step := plan.RoundStep(mostMM / mmPerM / unitM / float64(n) / 2.5)
	for next := plan.RoundStep(step * 1.5); next*unitM*mmPerM*float64(n) <= mostMM; next = plan.RoundStep(step * 1.5) {
		step = next
	}
	return unitM, step * unitM, n
}

// bar draws a scale bar of n fields in black and white.
func (p *compass) bar(at plan.Pt, fieldMM float64, n int, word func(i int) string) {
	const h = 1.6
	for i := range n {
		r := plan.Rect{X: at.X + float64(i)*fieldMM, Y: at.Y, W: fieldMM, H: h}
		if i%2 == 0 {
			p.c.Box(r, paper.Black)
		}
		p.c.Frame(r, thinPen)
	}
	f := p.font(paper.Regular, 0.85)
	for i := range n + 1 {
		s := word(i)
		if i == n {
			s += " " + map[geo.Units]string{geo.US: "ft"}[p.u]
			if p.u != geo.US {
				s = word(i) + " m"
			}
		}
		p.c.Text(plan.Pt{X: at.X + float64(i)*fieldMM, Y: at.Y + h + 2.4}, s, f, paper.Middle)
	}
}

// northArrow points north from the middle of a ring.
func (p *compass) northArrow(at, north plan.Pt) {
	side := north.Normal()
	tip, foot := at.Add(north.Scale(5)), at.Sub(north.Scale(4.5))
	p.c.Circle(at, 3.4, paper.Pen{WidthMM: 0.25, Color: paper.Black})
	p.c.Area([][]plan.Pt{{tip, foot.Add(side.Scale(2)), at.Sub(north.Scale(2.6))}}, paper.Black)
	p.c.Area([][]plan.Pt{{tip, foot.Sub(side.Scale(2)), at.Sub(north.Scale(2.6))}}, paper.White)
	p.c.Rings([][]plan.Pt{{tip, foot.Add(side.Scale(2)), at.Sub(north.Scale(2.6)), foot.Sub(side.Scale(2))}}, thinPen)
	p.c.TextAlong(at.Add(north.Scale(6.8)), plan.Pt{X: 1}, "N", paper.Font{Face: paper.Bold, SizePt: 8})
}
