package geo

import "math"

// Affine takes (u, v) to (A·u + B·v + C, D·u + E·v + F): a picture's columns and
// rows to the ground.
type Affine struct{ A, B, C, D, E, F float64 }

// Apply is where a point comes to lie.
func (t Affine) Apply(u, v float64) XY {
	return XY{t.A*u + t.B*v + t.C, t.D*u + t.E*v + t.F}
}

// Det is the area of the unit square's image, negative where the sense of turning
// is reversed, as from rows that count down to norths that count up.
func (t Affine) Det() float64 { return t.A*t.E - t.B*t.D }

// Inverse is the way back; it is not finite where all falls on one line.
func (t Affine) Inverse() Affine {
	d := t.Det()
	i := Affine{A: t.E / d, B: -t.B / d, D: -t.D / d, E: t.A / d}
	i.C, i.F = -(i.A*t.C + i.B*t.F), -(i.D*t.C + i.E*t.F)
	return i
}

// After is t applied to what s gives.
func (t Affine) After(s Affine) Affine {
	return Affine{A: t.A*s.A + t.B*s.D, B: t.A*s.B + t.B*s.E, C: t.A*s.C + t.B*s.F + t.C,
		D: t.D*s.A + t.E*s.D, E: t.D*s.B + t.E*s.E, F: t.D*s.C + t.E*s.F + t.F}
}

// Finite reports whether every coefficient is a number.
func (t Affine) Finite() bool {
	for _, v := range []float64{t.A, t.B, t.C, t.D, t.E, t.F} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// FitAffine returns the transformation that brings a grid of points nearest to
// where they belong, in least squares, and the largest distance left. The grid is
// even in u and in v, from 0 to w and to h: its normal equations then fall apart
// about the middle.
func FitAffine(w, h float64, steps int, to func(u, v float64) (XY, error)) (Affine, float64, error) {
	n := steps + 1
	at := make([]XY, 0, n*n)
	var mean, du, dv XY
	var suu, svv float64
	each := func(f func(i int, u, v float64)) {
		for i := range n * n {
			f(i, w*float64(i%n)/float64(steps), h*float64(i/n)/float64(steps))
		}
	}
	var err error
	each(func(_ int, u, v float64) {
		q, e := to(u, v)
		if e != nil && err == nil {
			err = e
		}
		at = append(at, q)
		mean = mean.Add(q)
	})
	if err != nil {
		return Affine{}, 0, err
	}
	mean = mean.Scale(1 / float64(n*n))
	each(func(i int, u, v float64) {
		d := at[i].Sub(mean)
		u, v = u-w/2, v-h/2
		du, dv = du.Add(d.Scale(u)), dv.Add(d.Scale(v))
		suu, svv = suu+u*u, svv+v*v
	})
	t := Affine{A: du.X / suu, D: du.Y / suu, B: dv.X / svv, E: dv.Y / svv}
	t.C, t.F = mean.X-t.A*w/2-t.B*h/2, mean.Y-t.D*w/2-t.E*h/2
	worst := 0.0
	each(func(i int, u, v float64) { worst = math.Max(worst, t.Apply(u, v).Dist(at[i])) })
	return t, worst, nil
}
