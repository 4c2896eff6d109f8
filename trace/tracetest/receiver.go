package tracetest

import (
	"math"

	"loamline.example/geo"
)

// stance is where the receiver is held: over a guide point on the ground, its
// coils across the direction that it faces.
type stance struct {
	guide geo.XY
	face  geo.XY // unit vector along the line as the locator believes it
}

func (s stance) at(crossM, heightM float64) vec {
	p := s.guide.Add(right(s.face).Scale(crossM))
	return vec{p.X, p.Y, heightM}
}

func (s stance) across() vec {
	n := right(s.face)
	return vec{n.X, n.Y, 0}
}

// horizontal is the signal of a coil with a horizontal axis across the line.
func (sc scene) horizontal(s stance, crossM, heightM float64) float64 {
	return sc.field(s.at(crossM, heightM)).along(s.across())
}

// vertical is the signal of a coil with a vertical axis, at ground level.
func (sc scene) vertical(s stance, crossM float64) float64 {
	return sc.field(s.at(crossM, 0)).along(vec{0, 0, 1})
}

// peak walks uphill from startM across the line until the signal of the lower
// antenna falls, as a locator does, and narrows the place down. It returns the
// cross coordinate, positive to the right of the direction faced; false where
// it climbed farther than reachM and found no top.
func (sc scene) peak(s stance, startM, stepM, reachM float64) (float64, bool) {
	return descend(func(x float64) float64 { return -sc.horizontal(s, x, 0) }, startM, stepM, reachM)
}

// null finds the minimum of the vertical signal next to the peak.
func (sc scene) null(s stance, peakM, stepM, reachM float64) (float64, bool) {
	return descend(func(x float64) float64 { return sc.vertical(s, x) }, peakM, stepM, reachM)
}

// descend finds the minimum downhill from a start: first by steps, then by
// golden sections to a tenth of a millimetre.
func descend(f func(float64) float64, start, step, reach float64) (float64, bool) {
	x, fx := start, f(start)
	if l, r := f(start-step), f(start+step); l < fx || r < fx {
		if l < r {
			step = -step
		}
		for {
			next := f(x + step)
			if next >= fx {
				break
			}
			x, fx = x+step, next
			if math.Abs(x-start) > reach {
				return x, false
			}
		}
	}
	a, b := x-math.Abs(step), x+math.Abs(step)
	inv := (math.Sqrt(5) - 1) / 2
	c, d := b-inv*(b-a), a+inv*(b-a)
	fc, fd := f(c), f(d)
	for b-a > 1e-4 {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - inv*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + inv*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2, true
}

// twoAntenna derives depth below the lower antenna and current from the
// magnitudes at two antennas, as a receiver's firmware does: it takes the field
// to fall as one over the distance from one long straight line. NaN where the
// upper antenna hears no less than the lower.
func twoAntenna(lowT, highT, gapM float64) (depthM, amps float64) {
	if !(lowT > highT*1.001) {
		return math.NaN(), math.NaN()
	}
	ratio := lowT / highT
	depthM = gapM / (ratio - 1)
	return depthM, depthM * lowT / (2 * muOver4Pi)
}

// sight is one noise-free look across the line.
type sight struct {
	peakM, nullM     float64 // cross coordinates; nullM is NaN where none was found
	lowT, highT      float64 // at the place where the receiver was held
	depthM, amps     float64
	phase            complex128 // of the horizontal field at the lower antenna
	found            bool
	heldM            float64
	residualNullFrac float64 // vertical signal left at the null, over the peak's
}

// look finds peak and null from a start, then reads both antennas at the peak
// plus a pinpointing error, at a height.
func (sc scene) look(s stance, startM, errorM, heightM, gapM, scaleM float64) sight {
	step, reach := 0.06*scaleM, 4*scaleM+2
	var o sight
	o.peakM, o.found = sc.peak(s, startM, step, reach)
	var ok bool
	if o.nullM, ok = sc.null(s, o.peakM, step, reach); !ok {
		o.nullM = math.NaN()
	} else if h := sc.horizontal(s, o.peakM, 0); h > 0 {
		o.residualNullFrac = sc.vertical(s, o.nullM) / h
	}
	o.heldM = o.peakM + errorM
	low := sc.field(s.at(o.heldM, heightM))
	o.lowT = low.along(s.across())
	o.highT = sc.horizontal(s, o.heldM, heightM+gapM)
	o.phase = low.complexAlong(s.across())
	o.depthM, o.amps = twoAntenna(o.lowT, o.highT, gapM)
	return o
}
