package plan

import "math"

// Pt is a place on the sheet: millimetres from the top left corner, y down.
type Pt struct{ X, Y float64 }

// Add returns p + q.
func (p Pt) Add(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Pt) Sub(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Scale returns p times f.
func (p Pt) Scale(f float64) Pt { return Pt{p.X * f, p.Y * f} }

// Norm returns the length of p in millimetres.
func (p Pt) Norm() float64 { return math.Hypot(p.X, p.Y) }

// Unit returns p at length 1, or the zero point where p has none.
func (p Pt) Unit() Pt {
	if n := p.Norm(); n > 0 {
		return p.Scale(1 / n)
	}
	return Pt{}
}

// Normal returns p turned by a quarter to the right as seen on the sheet.
func (p Pt) Normal() Pt { return Pt{-p.Y, p.X} }

// Finite reports whether both coordinates are numbers.
func (p Pt) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// Rect is a rectangle on the sheet, in millimetres.
type Rect struct{ X, Y, W, H float64 }

// Inset returns r with d millimetres taken off every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Right returns the x of the right side.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom returns the y of the lower side.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Center returns the middle of r.
func (r Rect) Center() Pt { return Pt{r.X + r.W/2, r.Y + r.H/2} }

// Contains reports whether p lies in r or on its sides.
func (r Rect) Contains(p Pt) bool {
	return p.X >= r.X && p.X <= r.Right() && p.Y >= r.Y && p.Y <= r.Bottom()
}

// Nearest returns the place in r nearest to p.
func (r Rect) Nearest(p Pt) Pt {
	return Pt{math.Max(r.X, math.Min(r.Right(), p.X)), math.Max(r.Y, math.Min(r.Bottom(), p.Y))}
}

// overlaps reports whether r and q share more than an edge.
func (r Rect) overlaps(q Rect) bool {
	return r.X < q.Right() && q.X < r.Right() && r.Y < q.Bottom() && q.Y < r.Bottom()
}
