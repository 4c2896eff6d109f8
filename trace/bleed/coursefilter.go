package bleed

import (
	"math"
	"math/cmplx"

	"loamline.example/geo"
)

// courseState is position and velocity a metre, as complex numbers of the
// plane, with their Hermitian covariance: the error is the same both ways.
type courseState struct {
	p, v     complex128
	p00, p11 float64
	p01      complex128 // of p with v
}

func (s courseState) pos() geo.XY { return geo.XY{X: real(s.p), Y: imag(s.p)} }

// courseFilter is a filtered course: its states before and after each mark.
type courseFilter struct {
	nodes        []courseNode
	expected, at []courseState
	turn, reach  []complex128 // of the step to each node
	log          float64
	measured     int
}

func filterCourse(nodes []courseNode) courseFilter {
	f := courseFilter{nodes: nodes}
	s := courseState{p00: 1e8, p11: 4}
	for i := range nodes {
		if !math.IsInf(nodes[i].sigmaM, 1) {
			s.p = complex(nodes[i].mark.X, nodes[i].mark.Y) // a place to begin at, no knowledge
			break
		}
	}
	for i, n := range nodes {
		turn, reach := complex128(1), complex128(0)
		if i > 0 {
			turn, reach = n.bend.step(n.t - nodes[i-1].t)
			s = s.after(turn, reach, n.t-nodes[i-1].t, n.bend.wander*n.bend.wander)
		}
		f.turn, f.reach = append(f.turn, turn), append(f.reach, reach)
		f.expected = append(f.expected, s)
		if !math.IsInf(n.sigmaM, 1) {
			s = f.update(s, n)
		}
		if n.heading != 0 {
			s = s.headed(n.heading, n.headingSigma)
		}
		f.at = append(f.at, s)
	}
	return f
}

// step is what h metres do to a direction, and how far they reach along it.
func (b courseBend) step(h float64) (turn, reach complex128) {
	a := b.curve * h
	turn = cmplx.Rect(1, a)
	if math.Abs(a) < 1e-6 {
		return turn, complex(h, 0)
	}
	return turn, (turn - 1) / complex(0, b.curve)
}

// after carries a state on by a step of h metres.
func (s courseState) after(turn, reach complex128, h, q float64) courseState {
	n := courseState{p: s.p + reach*s.v, v: turn * s.v}
	n.p00 = s.p00 + 2*real(reach*cmplx.Conj(s.p01)) + sq(reach)*s.p11 + q*h*h*h/3
	n.p01 = (s.p01+reach*complex(s.p11, 0))*cmplx.Conj(turn) + complex(q*h*h/2, 0)
	n.p11 = s.p11 + q*h
	return n
}

func sq(c complex128) float64 { return real(c)*real(c) + imag(c)*imag(c) }

func (f *courseFilter) update(s courseState, n courseNode) courseState {
	v := s.p00 + n.sigmaM*n.sigmaM
	e := complex(n.mark.X, n.mark.Y) - s.p
	if f.measured++; f.measured > 2 { // two marks make a place and a direction
		f.log -= math.Log(2*math.Pi*v) + sq(e)/(2*v)
	}
	k0, k1 := s.p00/v, cmplx.Conj(s.p01)/complex(v, 0)
	return courseState{
		p: s.p + complex(k0, 0)*e, v: s.v + k1*e,
		p00: (1 - k0) * s.p00, p01: complex(1-k0, 0) * s.p01, p11: s.p11 - sq(s.p01)/v,
	}
}

// headed is a state whose direction is known with an error, in radians.
func (s courseState) headed(direction complex128, sigma float64) courseState {
	v := s.p11 + sigma*sigma
	e := direction - s.v
	k0, k1 := s.p01/complex(v, 0), s.p11/v
	return courseState{
		p: s.p + k0*e, v: s.v + complex(k1, 0)*e,
		p00: s.p00 - sq(s.p01)/v, p01: complex(1-k1, 0) * s.p01, p11: (1 - k1) * s.p11,
	}
}

// smooth brings what later marks say back to earlier places.
func (f *courseFilter) smooth() {
	for i := len(f.at) - 2; i >= 0; i-- {
		turn, reach := f.turn[i+1], f.reach[i+1]
		a, e, next := f.at[i], f.expected[i+1], f.at[i+1]
		det := e.p00*e.p11 - sq(e.p01)
		if det <= 0 {
			continue
		}
		real2 := func(x float64) complex128 { return complex(x, 0) }
		// The covariance of this state with the next one's expectation.
		c00 := real2(a.p00) + a.p01*cmplx.Conj(reach)
		c01 := a.p01 * cmplx.Conj(turn)
		c10 := cmplx.Conj(a.p01) + real2(a.p11)*cmplx.Conj(reach)
		c11 := real2(a.p11) * cmplx.Conj(turn)
		d := real2(det)
		e00, e01, e10, e11 := real2(e.p11)/d, -e.p01/d, -cmplx.Conj(e.p01)/d, real2(e.p00)/d
		g00, g01 := c00*e00+c01*e10, c00*e01+c01*e11
		g10, g11 := c10*e00+c11*e10, c10*e01+c11*e11
		dp, dv := next.p-e.p, next.v-e.v
		d00, d11, d01 := real2(next.p00-e.p00), real2(next.p11-e.p11), next.p01-e.p01
		form := func(x0, x1, y0, y1 complex128) complex128 {
			return x0*d00*cmplx.Conj(y0) + x0*d01*cmplx.Conj(y1) + x1*cmplx.Conj(d01)*cmplx.Conj(y0) + x1*d11*cmplx.Conj(y1)
		}
		f.at[i] = courseState{
			p: a.p + g00*dp + g01*dv, v: a.v + g10*dp + g11*dv,
			p00: a.p00 + real(form(g00, g01, g00, g01)), p01: a.p01 + form(g00, g01, g10, g11),
			p11: a.p11 + real(form(g10, g11, g10, g11)),
		}
	}
}
