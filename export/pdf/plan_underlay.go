package pdf

import (
	"strings"

	"loamline.example/export/internal/plan"
)

// underlay draws the site plan, pale, over the zones' grey, which would hide it, and
// beneath everything else.
func (p *planView) underlay() {
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
