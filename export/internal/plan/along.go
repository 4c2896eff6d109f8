package plan

import "math"

// Walk goes along a path on paper.
type Walk struct {
	path []Pt
	at   []float64 // millimetres from the start, one a point
}

// NewWalk measures a path.
func NewWalk(path []Pt) Walk {
	at := make([]float64, len(path))
	for i := 1; i < len(path); i++ {
		at[i] = at[i-1] + path[i].Sub(path[i-1]).Norm()
	}
	return Walk{path, at}
}

// Length returns the length in millimetres.
func (w Walk) Length() float64 {
	if len(w.at) == 0 {
		return 0
	}
	return w.at[len(w.at)-1]
}

// At returns the point and the unit direction at a distance from the start.
func (w Walk) At(mm float64) (Pt, Pt) {
	for i := 1; i < len(w.path); i++ {
		if w.at[i] >= mm && w.at[i] > w.at[i-1] {
			d := w.path[i].Sub(w.path[i-1])
			t := math.Max(0, (mm-w.at[i-1])/(w.at[i]-w.at[i-1]))
			return w.path[i-1].Add(d.Scale(t)), d.Unit()
		}
	}
	if n := len(w.path); n > 1 {
		return w.path[n-1], w.path[n-1].Sub(w.path[n-2]).Unit()
	}
	return Pt{}, Pt{}
}
