package pdf

import (
	"github.com/paulmach/orb"

	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// planView is one plan on one sheet while it is drawn. What lies over each other on it are
// layers, a type each, that share its window and its board.
type planView struct {
	*sheetSet
	*marker
	planWindow
	sh   *drawnSheet
	told map[int]bool // numbers of the findings on it
}

func newPlanView(set *sheetSet, m *marker, view plan.View, sh *drawnSheet) *planView {
	w := planWindow{View: view, board: plan.NewBoard(view.Window.Inset(0.8)), clip: view.Window.Inset(-5)}
	return &planView{sheetSet: set, marker: m, planWindow: w, sh: sh, told: map[int]bool{}}
}

// drawLayers draws everything of the job that falls into the window, from the ground up.
func (p *planView) drawLayers() {
	zones, records, grid, north := zoneLayer{p}, recordLayer{p}, gridLayer{p}, compass{p}
	suspects, lines, matches, tags := suspectLayer{p}, lineLayer{p}, matchLayer{p}, tagLayer{p}
	stations, marks, crossings, fixed := stationLayer{p}, markLayer{p}, crossingLayer{p}, fixedLayer{p}
	p.c.Clip(p.Window, func() {
		for _, layer := range []func(){zones.draw, records.underlay, grid.crosses, records.backdrop, records.draw, north.draw, suspects.draw,
			marks.keep, lines.draw, fixed.draw, matches.draw, tags.draw, stations.draw, marks.readings, marks.transmitters,
			crossings.draw, marks.exposures, marks.checksFailed, suspects.labels, lines.names, records.names, fixed.names} {
			p.goOn()
			layer()
		}
	})
	grid.coordinates()
	p.c.Frame(p.Window, thinPen)
}

// strip reports whether the plan is one of a line's strips.
func (p *planView) strip() bool { return p.sh.kind == stripSheet }

// area hands every polygon that shows, cut for filling and whole for outlines.
func (p *planView) area(mp orb.MultiPolygon, s sign, draw func(fill, rings [][]plan.Pt)) {
	for _, poly := range mp {
		var fill, rings [][]plan.Pt
		for _, ring := range poly {
			var pts []plan.Pt
			for _, q := range ring {
				if t := p.Paper(geo.XY{X: q[0], Y: q[1]}); t.Finite() {
					pts = append(pts, t)
				}
			}
			if cut := plan.ClipRing(pts, p.clip); len(cut) > 2 {
				fill = append(fill, cut)
			}
			if pts = plan.Thin(pts, thinMM); len(pts) > 2 {
				rings = append(rings, pts)
			}
		}
		if len(fill) > 0 {
			draw(fill, rings)
			p.used[s] = true
		}
	}
}
