package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/literal"
	"loamline.example/geo"
)

// compassMM is the height of north arrow and scale bar with its words.
const compassMM = 16.0

// compassSize is the bar's fields and the width of all.
func (p *planView) compassSize() (stepM float64, n int, wMM float64) {
	_, stepM, n = scaleBar(p.u, p.Scale.MMPerM(), math.Min(62, p.Window.W*0.3))
	return stepM, n, stepM*float64(n)*p.Scale.MMPerM() + 26
}

// crewCompass takes the place of the compass of a crew sheet before all else: that plan
// was made to have room for it, and hatching, codes and labels stand elsewhere.
func (p *planView) crewCompass() {
	if p.sh.kind == crewSheet {
		r, _ := p.compassPlace()
		p.putCompass(r)
	}
}

// compass puts that of any other sheet where the least is drawn.
func (p *planView) compass() {
	if p.sh.kind != crewSheet {
		_, _, wMM := p.compassSize()
		r, _ := p.board.Corner(wMM, compassMM, 1.5)
		p.putCompass(r)
	}
}

// putCompass puts north arrow and scale bar into a place.
func (p *planView) putCompass(r plan.Rect) {
	unit, _, _ := scaleBar(p.u, p.Scale.MMPerM(), 1)
	step, n, _ := p.compassSize()
	barMM := step * float64(n) * p.Scale.MMPerM()
	p.board.Take(r)
	p.c.Box(r, paper.White)
	p.northArrow(plan.Pt{X: r.X + 8, Y: r.Y + 8.2}, p.North())
	p.bar(plan.Pt{X: r.X + 18, Y: r.Y + 8}, step*p.Scale.MMPerM(), n, func(i int) string {
		return strconv.FormatFloat(math.Round(step*float64(i)/unit*1e6)/1e6, 'f', -1, 64)
	})
	f := p.font(paper.Bold, 1)
	p.c.Text(plan.Pt{X: r.X + 18, Y: r.Y + 4}, "Plan "+p.Scale.Words(p.u), f, paper.Left)
	p.c.Text(plan.Pt{X: r.X + 18, Y: r.Y + 14.8}, "bar is "+p.paperLength(barMM)+" long at full size", p.font(paper.Regular, 0.78), paper.Left)
}

// paperLength words a length on paper: "40 mm", "2 in".
func (d *drafter) paperLength(mm float64) string {
	if d.u == geo.US {
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
func (d *drafter) bar(at plan.Pt, fieldMM float64, n int, word func(i int) string) {
	const h = 1.6
	for i := range n {
		r := plan.Rect{X: at.X + float64(i)*fieldMM, Y: at.Y, W: fieldMM, H: h}
		if i%2 == 0 {
			d.c.Box(r, paper.Black)
		}
		d.c.Frame(r, thinPen)
	}
	f := d.font(paper.Regular, 0.85)
	for i := range n + 1 {
		s := word(i)
		if i == n {
			s += " " + map[geo.Units]string{geo.US: "ft"}[d.u]
			if d.u != geo.US {
				s = word(i) + " m"
			}
		}
		d.c.Text(plan.Pt{X: at.X + float64(i)*fieldMM, Y: at.Y + h + 2.4}, s, f, paper.Middle)
	}
}

// northArrow points north from the middle of a ring.
func (d *drafter) northArrow(at, north plan.Pt) {
	side := north.Normal()
	tip, foot := at.Add(north.Scale(5)), at.Sub(north.Scale(4.5))
	d.c.Circle(at, 3.4, paper.Pen{WidthMM: 0.25, Color: paper.Black})
	d.c.Area([][]plan.Pt{{tip, foot.Add(side.Scale(2)), at.Sub(north.Scale(2.6))}}, paper.Black)
	d.c.Area([][]plan.Pt{{tip, foot.Sub(side.Scale(2)), at.Sub(north.Scale(2.6))}}, paper.White)
	d.c.Rings([][]plan.Pt{{tip, foot.Add(side.Scale(2)), at.Sub(north.Scale(2.6)), foot.Sub(side.Scale(2))}}, thinPen)
	d.c.TextAlong(at.Add(north.Scale(6.8)), plan.Pt{X: 1}, "N", paper.Font{Face: paper.Bold, SizePt: 8})
}
