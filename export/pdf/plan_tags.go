package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// tagLayer is the numbers of the sheets on an overview.
type tagLayer struct{ *planView }

// draw turns an overview into the key plan: bars where strips meet, and by
// every strip the number of its sheet.
func (p *tagLayer) draw() {
	if p.sh.kind != overviewSheet {
		return
	}
	for i := range p.sheets {
		sh := &p.sheets[i]
		if sh.kind != stripSheet {
			continue
		}
		l := &p.lines[sh.line]
		if sh.seq > 0 {
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
func (p *tagLayer) joint(l *drawnLine, stationM float64) {
	at, n := p.Paper(l.path.At(stationM)), p.dir(l, stationM).Normal().Scale(3)
	p.c.Line(at.Sub(n), at.Add(n), paper.Pen{WidthMM: 0.8, Color: paper.Black})
	p.board.Ink([]plan.Pt{at.Sub(n), at.Add(n)}, 2)
	p.used[signJoint] = true
}
