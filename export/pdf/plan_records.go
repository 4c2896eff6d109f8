package pdf

import (
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
)

// recordLayer is what the job was given beside its readings: lines on record, the background of
// layers, a site plan.
type recordLayer struct{ *planView }

// draw draws the lines known from reference layers.
func (p *recordLayer) draw() {
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
func (p *recordLayer) backdrop() {
	for _, b := range p.s.Background {
		for _, run := range p.runs(b.Path) {
			p.c.Path(run, backdropPen)
			p.used[signBackdrop] = true
		}
	}
}

// names writes the names of records beside them.
func (p *recordLayer) names() {
	for _, r := range p.s.Records {
		if run := longestRun(p.runs(r.Path), p.Window); len(run) > 1 {
			f := p.font(paper.Italic, 0.85)
			p.label(run, []string{p.c.Fit("record: "+r.Name+" ("+style.Of(r.Utility).Code+")", f, 60)}, f, 1.2, 14)
		}
	}
}

// underlay draws the site plan, pale, over the zones' grey, which would hide it, and
// beneath everything else.
func (p *recordLayer) underlay() {
	u := p.s.Underlay
	if u == nil {
		return
	}
	var at [4]plan.Pt
	var ring []plan.Pt
	for i, q := range u.Corners() {
		at[i] = p.Paper(q)
		ring = append(ring, at[i])
	}
	if len(plan.ClipRing(ring, p.Window)) < 3 {
		return
	}
	p.c.Picture(u.Name, strings.TrimPrefix(u.MIME, "image/"), u.Picture, at[0], at[1], at[3], u.Opacity)
	p.used[signUnderlay] = true
}
