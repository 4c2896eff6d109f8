package plan

import (
	"math"

	"loamline.example/geo"
)

// View places ground on paper: turned, scaled, and centred in a window.
type View struct {
	Window   Rect
	Scale    Scale
	Center   geo.XY  // the ground at the middle of the window
	AngleRad float64 // counter-clockwise from east: this direction of the ground runs to the right
}

// Paper returns where a place on the ground falls on the sheet.
func (v View) Paper(q geo.XY) Pt {
	d := q.Sub(v.Center)
	s, c := math.Sincos(v.AngleRad)
	k, at := v.Scale.MMPerM(), v.Window.Center()
	return Pt{at.X + (d.X*c+d.Y*s)*k, at.Y - (d.Y*c-d.X*s)*k}
}

// Ground is the inverse of Paper.
func (v View) Ground(p Pt) geo.XY {
	k, at := v.Scale.MMPerM(), v.Window.Center()
	x, y := (p.X-at.X)/k, (at.Y-p.Y)/k
	s, c := math.Sincos(v.AngleRad)
	return v.Center.Add(geo.XY{X: x*c - y*s, Y: x*s + y*c})
}

// Path returns a path on paper.
func (v View) Path(path []geo.XY) []Pt {
	out := make([]Pt, len(path))
	for i, q := range path {
		out[i] = v.Paper(q)
	}
	return out
}

// North returns the unit vector on paper that points north.
func (v View) North() Pt {
	s, c := math.Sincos(v.AngleRad)
	return Pt{s, -c}
}

// Corners returns the ground at the window's corners, from the top left one
// clockwise on the sheet.
func (v View) Corners() [4]geo.XY {
	w := v.Window
	return [4]geo.XY{v.Ground(Pt{w.X, w.Y}), v.Ground(Pt{w.Right(), w.Y}),
		v.Ground(Pt{w.Right(), w.Bottom()}), v.Ground(Pt{w.X, w.Bottom()})}
}

// Bounds returns the extent of points in the frame turned by angleRad: its
// sides in metres and its middle on the ground.
func Bounds(points []geo.XY, angleRad float64) (wM, hM float64, center geo.XY) {
	s, c := math.Sincos(angleRad)
	lo := geo.XY{X: math.Inf(1), Y: math.Inf(1)}
	hi := geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, q := range points {
		t := geo.XY{X: q.X*c + q.Y*s, Y: q.Y*c - q.X*s}
		lo = geo.XY{X: math.Min(lo.X, t.X), Y: math.Min(lo.Y, t.Y)}
		hi = geo.XY{X: math.Max(hi.X, t.X), Y: math.Max(hi.Y, t.Y)}
	}
	if math.IsInf(lo.X, 1) {
		return 0, 0, geo.XY{}
	}
	m := lo.Lerp(hi, 0.5)
	return hi.X - lo.X, hi.Y - lo.Y, geo.XY{X: m.X*c - m.Y*s, Y: m.X*s + m.Y*c}
}
