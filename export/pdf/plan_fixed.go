package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// fixedLayer is what points are taped from: a place without its name is no help, but it
// gives way to every word about the lines.
type fixedLayer struct{ *planView }

func (p *fixedLayer) draw() {
	for _, f := range p.fixed {
		at := p.Paper(f.Path[0])
		if !p.inside(at, 2) {
			continue
		}
		p.fixedMark(at)
		p.board.Ink([]plan.Pt{at.Sub(plan.Pt{X: 1}), at.Add(plan.Pt{X: 1})}, 4)
		p.used[signFixed] = true
	}
}

func (p *fixedLayer) names() {
	f := p.font(paper.Regular, 0.8)
	for _, feature := range p.fixed {
		if at := p.Paper(feature.Path[0]); p.inside(at, 2) {
			p.words([]plan.Pt{at}, []string{p.c.Fit(feature.Name, f, 40)}, f, 1.4, 6)
		}
	}
}
