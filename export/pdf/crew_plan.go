package pdf

import (
	"math"

	"loamline.example/export/internal/plan"
)

// crewMarginMM is what a crew sheet's plan leaves free around the job.
const crewMarginMM = 7.0

// crewView turns the job so that it fills the width at the most detailed scale,
// north up where turning gains nothing, and tells how high the plan must be.
func (d *drafter) crewView(most plan.Rect) (plan.View, float64) {
	points := d.extent()
	if len(points) == 0 {
		return plan.View{}, most.H * 0.6
	}
	room := most.Inset(coordsMM + crewMarginMM)
	best := plan.View{Scale: plan.Scale(math.Inf(1))}
	heightMM := most.H
	for deg := 0; deg < 180; deg += 5 {
		a := float64(deg) * math.Pi / 180
		if deg > 90 {
			a -= math.Pi
		}
		w, h, center := plan.Bounds(points, a)
		for _, s := range plan.Overviews(d.u) {
			if w*s.MMPerM() > room.W || h*s.MMPerM() > room.H {
				continue
			}
			if s < best.Scale {
				best = plan.View{Scale: s, Center: center, AngleRad: a}
				heightMM = h*s.MMPerM() + most.H - room.H
			}
			break
		}
	}
	if math.IsInf(float64(best.Scale), 1) { // wider than any scale
		best, _ = d.fitView(most.Inset(coordsMM), crewMarginMM)
	}
	// Words stand beside the lines: a street in one row still needs room for them.
	return best, math.Min(most.H, math.Max(heightMM+10, most.H*0.62))
}

// crewPlan draws the job in its room.
func (d *drafter) crewPlan(view plan.View, r plan.Rect) {
	win := r.Inset(coordsMM)
	if view.Scale == 0 {
		d.nothing(win)
	} else {
		view.Window = win
		d.plan(view, &drawnSheet{kind: crewSheet, line: -1, scale: view.Scale})
	}
	if d.strips() == 0 {
		d.nothingDrawn(win)
	}
}
