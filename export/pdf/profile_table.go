package pdf

import (
	"math"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// table tells the figures at the stations.
func (p *profileDrawing) table(r plan.Rect, rowMM float64) {
	f := p.font(paper.Regular, 0.9)
	names := []string{"station", "depth", "across ±"}
	for i, name := range names {
		y := r.Y + float64(i)*rowMM
		p.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
		p.c.Lines(r.X+1.2, y+0.3, []string{name}, f)
	}
	last := math.Inf(-1)
	stations := p.stations()
	if p.flip {
		for i, j := 0, len(stations)-1; i < j; i, j = i+1, j-1 {
			stations[i], stations[j] = stations[j], stations[i]
		}
	}
	for _, s := range stations {
		cells := p.cells(s)
		w, _ := p.size(cells, f)
		x := math.Max(p.x(s), r.X+15+w/2)
		x = math.Min(x, r.Right()-1-w/2)
		if x-w/2 < last+1.5 {
			continue
		}
		last = x + w/2
		for i, c := range cells {
			p.c.Text(plan.Pt{X: x, Y: r.Y + float64(i)*rowMM + f.SizePt*0.3528*0.95 + 0.3}, c, f, paper.Middle)
		}
	}
}

// doubtMark stands behind a figure that is to be taken with doubt, where a word has no
// room; the lists say what it means.
const doubtMark = " ?"

// noFigure stands where there is none, and the word beside it says why.
const noFigure = "–"

// figures are station, depth and band across the line at a place; no figure
// stands there as read where it is in doubt.
func (l *drawnLine) figures(u geo.Units, s float64) []string {
	v, ok := l.at(s)
	switch {
	case !ok && l.Centerline.Way(s):
		return []string{u.Long(s), "on a branch", noFigure}
	case !ok:
		return []string{u.Long(s), "not traced", noFigure}
	}
	t := words.At(l.Line, v)
	label := strings.TrimPrefix(strings.TrimPrefix(words.DepthLabel(u, t.DepthM, t.Depth95M), "read "), "depth ")
	switch {
	case t.Distrusted(): // a figure that holds the suspected error tells a crew nothing
		label = "do not trust"
	case t.Doubt != nil && strings.ContainsAny(label, "0123456789"): // words say themselves that nothing is known
		label += doubtMark
	}
	across := noFigure
	if trace.Known(t.Across95M()) {
		across = strings.TrimPrefix(t.HoldingDoubt().PositionLabel(u), "± ")
		if t.Doubt != nil { // as the depth beside it is told
			across += doubtMark
		}
	}
	return []string{u.Long(s), label, across}
}
