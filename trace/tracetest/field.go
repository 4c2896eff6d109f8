package tracetest

import (
	"math"
	"math/cmplx"
)

// vec is a vector in space: east, north, up.
type vec struct{ x, y, z float64 }

func (a vec) sub(b vec) vec       { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) add(b vec) vec       { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) scale(f float64) vec { return vec{a.x * f, a.y * f, a.z * f} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) norm() float64       { return math.Sqrt(a.dot(a)) }
func (a vec) cross(b vec) vec     { return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x} }

// muOver4Pi is the magnetic constant over 4 pi, in T·m/A (1e-7 to ten digits,
// CODATA 2018).
const muOver4Pi = 1e-7

// wire is a conductor: a path in space with the current in each of its
// segments, in amperes, positive along the path. The current is a phasor.
type wire struct {
	points   []vec
	currents []complex128 // one a segment
}

// phasor is a field vector at one frequency, in tesla.
type phasor struct{ re, im vec }

func (p phasor) along(u vec) float64 {
	return math.Hypot(p.re.dot(u), p.im.dot(u))
}

func (p phasor) complexAlong(u vec) complex128 {
	return complex(p.re.dot(u), p.im.dot(u))
}

func (p phasor) add(q phasor) phasor { return phasor{p.re.add(q.re), p.im.add(q.im)} }

// field returns the magnetic flux density of the wire at a point, from the law
// of Biot and Savart integrated over each straight segment: with a and b the
// vectors from the segment's ends to the point,
//
//	B = μ0 I/4π · (a × b)(|a| + |b|) / (|a||b| (|a||b| + a·b))
//
// (for instance J. D. Hanson and S. P. Hirshman, 2002, Compact expressions for
// the Biot-Savart fields of a filamentary segment, Phys. Plasmas 9:4410). It is
// exact for the polyline; it grows without bound on the wire itself.
func (w wire) field(at vec) phasor {
	var f phasor
	if len(w.points) < 2 {
		return f
	}
	a := at.sub(w.points[0])
	na := a.norm()
	for i, c := range w.currents {
		b := at.sub(w.points[i+1])
		nb := b.norm()
		if den := na * nb * (na*nb + a.dot(b)); c != 0 && den > 0 {
			g := a.cross(b).scale(muOver4Pi * (na + nb) / den)
			f.re = f.re.add(g.scale(real(c)))
			if imag(c) != 0 {
				f.im = f.im.add(g.scale(imag(c)))
			}
		}
		a, na = b, nb
	}
	return f
}

// dipole is the loop of an induction transmitter: moment in A·m².
type dipole struct {
	at     vec
	moment vec
	phase  float64 // radians against the current in the line
}

// field returns the flux density of a point dipole (textbook:
// B = μ0/4π (3(m·r̂)r̂ − m)/r³).
func (d dipole) field(at vec) phasor {
	r := at.sub(d.at)
	n := r.norm()
	if n == 0 {
		return phasor{}
	}
	u := r.scale(1 / n)
	b := u.scale(3 * d.moment.dot(u)).add(d.moment.scale(-1)).scale(muOver4Pi / (n * n * n))
	e := cmplx.Exp(complex(0, d.phase))
	return phasor{b.scale(real(e)), b.scale(imag(e))}
}

// scene is everything that carries current while one line is being traced.
type scene struct {
	wires   []wire
	dipoles []dipole
}

func (s scene) field(at vec) phasor {
	var f phasor
	for _, w := range s.wires {
		f = f.add(w.field(at))
	}
	for _, d := range s.dipoles {
		f = f.add(d.field(at))
	}
	return f
}
