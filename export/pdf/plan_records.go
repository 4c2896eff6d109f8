package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/style"
)

// records draws the lines known from reference layers.
func (p *planView) records() {
	for _, r := range p.s.Records {
		runs := p.runs(r.Path)
		for _, run := range runs {
			p.c.Path(run, recordPen)
			p.board.Ink(run, 0.6)
			p.used[signRecord] = true
		}
	}
}

// backdrop draws what layers hold beside lines: kerbs, walls, buildings.
func (p *planView) backdrop() {
	for _, b := range p.s.Background {
		for _, run := range p.runs(b.Path) {
			p.c.Path(run, backdropPen)
			p.used[signBackdrop] = true
		}
	}
}

// recordNames writes the names of records beside them.
func (p *planView) recordNames() {
	for _, r := range p.s.Records {
		if run := longestRun(p.runs(r.Path), p.Window); len(run) > 1 {
			f := p.font(paper.Italic, 0.85)
			p.label(run, []string{p.c.Fit("record: "+r.Name+" ("+style.Of(r.Utility).Code+")", f, 60)}, f, 1.2, 14)
		}
	}
}
