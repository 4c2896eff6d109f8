// Package beneath words what is drawn beneath the lines and is none: a site plan, and the
// outlines of background layers.
package beneath

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
)

// SitePlanShort is what must stand wherever a site plan is seen.
const SitePlanShort = "The site plan is only as well placed as its own geo-referencing. It changes no line, zone or finding."

// SitePlan tells where the site plan beneath the lines comes from and how well it
// lies; nothing where there is none.
func SitePlan(u geo.Units, s *trace.Sheet) []string {
	p := s.Underlay
	if p == nil {
		return nil
	}
	out := []string{fmt.Sprintf("Site plan %s, drawn beneath the lines as handed in: placed by %s, in %s, %s per pixel. %s",
		p.Name, p.By, p.System, u.Fine(p.OwnPixelM), SitePlanShort)}
	if p.PixelM > p.OwnPixelM {
		out[0] += fmt.Sprintf(" It is drawn coarser than it is, %s per pixel.", u.Fine(p.PixelM))
	}
	if p.DoubtM > 0 {
		out[0] += fmt.Sprintf(" It may lie %s off: %s.", u.Short(p.DoubtM), p.DoubtWhy)
	}
	if p.Covered < p.Places {
		out[0] += " It covers a part of the readings only."
	}
	return out
}
