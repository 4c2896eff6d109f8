package bleed

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// shape is one explanation's column over a window, in the depth and in the signal
// channel from a reading on; beyond what is given it is 0.
type shape struct {
	from     int
	d, s     []float64
	opposed  bool // signal is the depth turned over, and s is not given
	sd       float64
	more     float64 // price beyond that of any explanation
	tee      bool
	stationM float64
	id       int // among those of its window, from 1 on; 0 for one that is asked for once
}

func (f shape) empty() bool { return f.d == nil && f.s == nil }

func (f shape) dense(rows int) []float64 {
	v := make([]float64, rows)
	copy(v[f.from:], f.d)
	if f.opposed {
		floats.SubTo(v[rows/2+f.from:][:len(f.d)], v[rows/2+f.from:][:len(f.d)], f.d)
	}
	copy(v[rows/2+f.from:], f.s)
	return v
}

// asked is what was asked of a depth and signal gaussian's precision and may be asked again,
// of its copies too, whatever their data.
type asked struct {
	contrast []float64 // see gaussian.contrast
	quads    []float64 // of the window's shapes by their id; NaN where not asked for yet
	// The precision is that of before, if any, less share times the square of the column.
	before *asked
	column []float64
	share  float64
}

// then is what is known of a precision that share times the square of a column was taken off.
func (a *asked) then(column []float64, share float64) *asked {
	if a.before == nil && a.quads == nil { // nothing is
		return &asked{}
	}
	return &asked{before: a, column: column, share: share}
}

// quad is where f'Wf is kept, NaN where it is not known, not even of a precision before: from
// there it takes a product along f, and no double sum.
func (a *asked) quad(f shape) *float64 {
	for len(a.quads) <= f.id {
		a.quads = append(a.quads, math.NaN())
	}
	q := &a.quads[f.id]
	if math.IsNaN(*q) && a.before != nil {
		c := f.along(a.column)
		*q = *a.before.quad(f) - a.share*c*c
	}
	return q
}

// quad is f'Wf of a depth and signal gaussian with the precision W.
func (b *gaussian) quad(f shape) float64 {
	if f.id == 0 {
		return b.weigh(f)
	}
	q := b.asked.quad(f)
	if math.IsNaN(*q) {
		*q = b.weigh(f)
	}
	return *q
}

func (b *gaussian) weigh(f shape) float64 {
	if f.opposed {
		return within(b.contrast(), b.n/2, f.d, f.from)
	}
	n := b.n / 2
	a := within(b.prec, b.n, f.d, f.from) + within(b.prec, b.n, f.s, n+f.from)
	for i, v := range f.d {
		k := f.from + i
		a += 2 * v * floats.Dot(b.prec[k*b.n+n+f.from:][:len(f.s)], f.s)
	}
	return a
}

// within is f'Mf of a symmetric matrix, for f that is 0 but from a place on: each row
// on itself, and twice on what comes after it.
func within(m []float64, stride int, f []float64, from int) (a float64) {
	for i, v := range f {
		row := m[(from+i)*(stride+1):][:len(f)-i]
		a += v * (2*floats.Dot(row, f[i:]) - row[0]*v)
	}
	return a
}

// contrast is the precision of a depth and signal gaussian as opposed shapes see it.
func (b *gaussian) contrast() []float64 {
	if b.asked.contrast != nil {
		return b.asked.contrast
	}
	n := b.n / 2
	b.asked.contrast = make([]float64, n*n)
	for i := range n {
		d, s := b.prec[i*b.n:(i+1)*b.n], b.prec[(n+i)*b.n:(n+i+1)*b.n]
		dd, ds, sd, ss, into := d[:n], d[n:], s[:n], s[n:], b.asked.contrast[i*n:(i+1)*n]
		for j := range into {
			into[j] = dd[j] - ds[j] - sd[j] + ss[j]
		}
	}
	return b.asked.contrast
}

// score is f'Wy.
func (b *gaussian) score(f shape) float64 { return f.along(b.py) }

// along is f'v, of a vector of both channels.
func (f shape) along(v []float64) float64 {
	n := len(v) / 2
	onD := floats.Dot(f.d, v[f.from:][:len(f.d)])
	if f.opposed {
		return onD - floats.Dot(f.d, v[n+f.from:][:len(f.d)])
	}
	return onD + floats.Dot(f.s, v[n+f.from:][:len(f.s)])
}

// shapes holds what explanations a window is tried with at every place, and those that
// were asked for at some, which are tried again and again as explanations are added.
type shapes struct {
	lo, n      int
	everywhere []shape
	some       map[shapeAt]shape
}

// shapeAt is a tee of a share, a ramp of a width, or a step of depth, which has neither.
type shapeAt struct{ stationM, share, widthM float64 }

// turnTo forgets those of another window.
func (s *shapes) turnTo(c *columns, lo, n int) {
	if s.some == nil || s.lo != lo || s.n != n {
		*s = shapes{lo, n, c.everywhere(lo, n), map[shapeAt]shape{}}
		for i := range s.everywhere {
			s.everywhere[i].id = 1 + i
		}
	}
}

// at is the explanation of the window at some place, made when it is first asked for.
func (s *shapes) at(at shapeAt, make func() shape) shape {
	f, ok := s.some[at]
	if !ok {
		f = make()
		f.id = 1 + len(s.everywhere) + len(s.some)
		s.some[at] = f
	}
	return f
}
