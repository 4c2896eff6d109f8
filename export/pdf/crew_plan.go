package pdf

import (
	"math"

	"loamline.example/export/internal/plan"
)

// crewMarginMM is what a crew sheet's plan leaves free around the job.
const crewMarginMM = 7.0

// crewPlan is the plan of a crew sheet, turned and cut to its room.
type crewPlan struct {
	*sheetSet
	*marker
}

// view turns the job so that it fills the width at the most detailed scale,
// north up where turning gains nothing, and tells how high the plan must be.
func (d *crewPlan) view(most plan.Rect) (plan.View, float64) {
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
	heightMM = math.Min(most.H, math.Max(heightMM+10, most.H*0.62))
	return d.clearOfCompass(best, plan.Rect{X: most.X, Y: most.Y, W: most.W, H: heightMM}.Inset(coordsMM)), heightMM
}

// clearOfCompass moves the job a little, then makes it smaller, until north arrow and scale bar
// have room beside the lines: what they cover looks as if nothing were there.
func (d *crewPlan) clearOfCompass(v plan.View, win plan.Rect) plan.View {
	first := v
	for _, s := range plan.Overviews(d.u) {
		if s < v.Scale {
			continue
		}
		for _, byMM := range []plan.Pt{{}, {Y: 3}, {Y: 6}, {Y: 9}, {Y: -3}, {Y: -6}, {X: 8}, {X: -8}, {X: 8, Y: 4}, {X: -8, Y: 4}} {
			d.goOn()
			try := first
			try.Scale, try.Window = s, win
			try.Center = try.Ground(win.Center().Add(byMM))
			p := &planView{sheetSet: d.sheetSet, marker: d.marker, planWindow: planWindow{View: try, clip: win.Inset(-5)}, sh: &drawnSheet{kind: crewSheet, line: -1}}
			if d.within(try) && (&compass{p}).place().clear {
				return try
			}
		}
	}
	return first
}

// within reports whether every line lies in the window of a view, with room for its name.
func (d *crewPlan) within(v plan.View) bool {
	for i := range d.lines {
		for _, q := range v.Path(d.lines[i].path.Points) {
			if q.Finite() && !v.Window.Inset(crewMarginMM/2).Contains(q) {
				return false
			}
		}
	}
	return true
}

// draw draws the job in its room.
func (d *crewPlan) draw(view plan.View, r plan.Rect) {
	win := r.Inset(coordsMM)
	if view.Scale == 0 {
		drawNoPlace(d.pencil, win)
	} else {
		view.Window = win
		newPlanView(d.sheetSet, d.marker, view, &drawnSheet{kind: crewSheet, line: -1, scale: view.Scale}).drawLayers()
	}
	if d.strips() == 0 {
		drawNoLine(d.pencil, d.s, win)
	}
}
