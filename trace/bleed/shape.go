package bleed

import "gonum.org/v1/gonum/floats"

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

// quad is f'Wf of a depth and signal gaussian with the precision W.
func (b *gaussian) quad(f shape) float64 {
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
	if b.opposed != nil {
		return b.opposed
	}
	n := b.n / 2
	b.opposed = make([]float64, n*n)
	for i := range n {
		d, s := b.prec[i*b.n:(i+1)*b.n], b.prec[(n+i)*b.n:(n+i+1)*b.n]
		dd, ds, sd, ss, into := d[:n], d[n:], s[:n], s[n:], b.opposed[i*n:(i+1)*n]
		for j := range into {
			into[j] = dd[j] - ds[j] - sd[j] + ss[j]
		}
	}
	return b.opposed
}

// score is f'Wy.
func (b *gaussian) score(f shape) float64 {
	n := b.n / 2
	onD := floats.Dot(f.d, b.py[f.from:][:len(f.d)])
	if f.opposed {
		return onD - floats.Dot(f.d, b.py[n+f.from:][:len(f.d)])
	}
	return onD + floats.Dot(f.s, b.py[n+f.from:][:len(f.s)])
}

// shapes holds what explanations a window is tried with at every place, and the tees
// that were asked for, which are tried again and again as explanations are added.
type shapes struct {
	lo, n      int
	everywhere []shape
	tees       map[teeAt]shape
}

type teeAt struct{ stationM, share float64 }

// turnTo forgets those of another window.
func (s *shapes) turnTo(c *columns, lo, n int) {
	if s.tees == nil || s.lo != lo || s.n != n {
		*s = shapes{lo, n, c.everywhere(lo, n), map[teeAt]shape{}}
	}
}
