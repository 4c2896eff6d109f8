package pdf

import (
	"slices"

	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// fitView shows the whole job north up in a window.
func (j *drawnJob) fitView(win plan.Rect, insetMM float64) (plan.View, bool) {
	points := j.extent()
	if len(points) == 0 {
		return plan.View{}, false
	}
	w, h, center := plan.Bounds(points, 0)
	in := win.Inset(insetMM)
	return plan.View{Window: win, Scale: plan.Finest(j.u, w, h, in.W, in.H), Center: center}, true
}

// extent returns the points that an overview must hold: the lines and their
// zones, or the readings where no line was drawn. Records and readings that
// were set aside may lie anywhere and do not count.
func (j *drawnJob) extent() []geo.XY {
	if j.held != nil { // every sheet with a key plan asks for them
		return j.held
	}
	var out []geo.XY
	for i := range j.lines {
		l := &j.lines[i]
		out = append(out, l.path.Points...)
		for _, poly := range l.Caution.Area {
			for _, ring := range poly {
				for _, q := range ring {
					out = append(out, geo.XY{X: q[0], Y: q[1]})
				}
			}
		}
	}
	if len(out) == 0 {
		out = j.readingExtent()
	}
	j.held = out
	return out
}

// readingExtent returns the placed readings within 500 m of their median place.
func (j *drawnJob) readingExtent() []geo.XY {
	var all []geo.XY
	for _, l := range j.lines {
		for k := range l.Readings {
			if r := &l.Readings[k]; r.Placed() {
				all = append(all, r.Pos)
			}
		}
	}
	mid := medianPlace(all)
	var out []geo.XY
	for _, q := range all {
		if q.Dist(mid) < 500 {
			out = append(out, q)
		}
	}
	return out
}

// medianPlace is the median of the coordinates, one by one.
func medianPlace(all []geo.XY) geo.XY {
	if len(all) == 0 {
		return geo.XY{}
	}
	xs, ys := make([]float64, len(all)), make([]float64, len(all))
	for i, q := range all {
		xs[i], ys[i] = q.X, q.Y
	}
	slices.Sort(xs)
	slices.Sort(ys)
	return geo.XY{X: xs[len(xs)/2], Y: ys[len(ys)/2]}
}
