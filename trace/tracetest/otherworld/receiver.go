package otherworld

import (
	"math"
	"math/cmplx"
)

// rule is how a receiver, or its user, comes to a depth.
type rule int

const (
	ratio    rule = iota // two coils across the line, one above the other
	total                // two antennas that take the whole field
	width                // the width at 80 % of the peak, which is the depth
	halfNull             // how far aside the field stands at 45°
)

// receiver is one instrument on one day.
type receiver struct {
	gapM      float64
	footM     float64 // lower antenna above the ground
	rule      rule
	stepM     float64 // of the depth shown
	scaleRel  float64 // all depths are wrong by this much
	antenna   float64 // relative noise of one antenna, one sigma
	depthRel  float64 // of the depth beyond that
	tiltRad   float64 // one sigma of the hand that holds it
	currentAt float64 // calibration of the current shown
	gain      float64 // signal shown for a tesla
	full      float64 // largest signal that it can show
	blindT    float64 // no depth below this field
}

func drawReceiver(r rng) receiver {
	rc := receiver{
		gapM: r.in(0.3, 0.7), stepM: pick(r, 0.01, 0.01, 0.01, 0.01, 0.05, 0.1, 0.0254),
		rule:     pick(r, ratio, ratio, ratio, ratio, ratio, total, width, halfNull),
		scaleRel: clamp(r.gauss(0.035), 0.12), antenna: r.scale(0.001, 0.008), depthRel: r.scale(0.005, 0.05),
		tiltRad: deg(r.scale(0.5, 6)), currentAt: 1 + r.gauss(0.05), gain: r.scale(1e9, 1e11),
		full: math.Inf(1), blindT: 1e-11,
	}
	if r.yes(0.5) {
		rc.footM = r.in(0.02, 0.1)
	}
	if rc.rule == width || rc.rule == halfNull {
		rc.depthRel = r.scale(0.02, 0.08)
	}
	return rc
}

func clamp(v, limit float64) float64 { return math.Max(-limit, math.Min(limit, v)) }

// strength is the field that an antenna of the receiver takes at a place.
func (rc receiver) strength(s slice, x, z float64) float64 {
	b := s.field(x, z)
	if rc.rule == total {
		return math.Sqrt(sq(b[0]) + sq(b[1]) + sq(b[2]))
	}
	return cmplx.Abs(b.along(s.right))
}

func sq(c complex128) float64 { return real(c)*real(c) + imag(c)*imag(c) }

// antennas are the signals low and high, with the receiver raised and tilted.
func (rc receiver) antennas(s slice, x, raiseM, tiltRad float64) (low, high float64) {
	z := rc.footM + raiseM
	low = rc.strength(s, x, z)
	b := s.field(x+rc.gapM*math.Sin(tiltRad), z+rc.gapM*math.Cos(tiltRad))
	if rc.rule == total {
		return low, math.Sqrt(sq(b[0]) + sq(b[1]) + sq(b[2]))
	}
	coil := func(b flux) float64 {
		return cmplx.Abs(b.along(s.right)*complex(math.Cos(tiltRad), 0) - b[2]*complex(math.Sin(tiltRad), 0))
	}
	return coil(s.field(x, z)), coil(b)
}

// fromAntennas is the depth below ground that two signals stand for.
func (rc receiver) fromAntennas(low, high float64) float64 {
	if high >= low {
		return math.NaN()
	}
	return rc.gapM*high/(low-high) - rc.footM
}

// depth is what the receiver's rule gives at a place without any noise; NaN
// where it gives none.
func (rc receiver) depth(s slice, x, raiseM, tiltRad float64) float64 {
	var d float64
	switch rc.rule {
	case width:
		a, okA := rc.falls(s, x, raiseM, -1)
		b, okB := rc.falls(s, x, raiseM, 1)
		if !okA || !okB {
			return math.NaN()
		}
		d = a + b - rc.footM
	case halfNull:
		a, okA := rc.stands45(s, x, raiseM, -1)
		b, okB := rc.stands45(s, x, raiseM, 1)
		if !okA || !okB {
			return math.NaN()
		}
		d = (a+b)/2 - rc.footM
	default:
		d = rc.fromAntennas(rc.antennas(s, x, raiseM, tiltRad))
	}
	if !(d > 0.05 && d < 12) {
		return math.NaN()
	}
	return d
}

// falls is how far aside the signal has come down to 80 % of what it is here.
func (rc receiver) falls(s slice, x, raiseM, side float64) (float64, bool) {
	z := rc.footM + raiseM
	want := 0.8 * rc.strength(s, x, z)
	return aside(func(d float64) bool { return rc.strength(s, x+side*d, z) < want })
}

// stands45 is how far aside the field leans by 45°.
func (rc receiver) stands45(s slice, x, raiseM, side float64) (float64, bool) {
	z := rc.footM + raiseM
	return aside(func(d float64) bool {
		b := s.field(x+side*d, z)
		return cmplx.Abs(b[2]) >= cmplx.Abs(b.along(s.right))
	})
}

// aside is the first distance at which something comes true, to a millimetre.
func aside(yes func(d float64) bool) (float64, bool) {
	const step, last = 0.05, 6.0
	for d := step; d <= last; d += step {
		if !yes(d) {
			continue
		}
		lo, hi := d-step, d
		for hi-lo > 1e-3 {
			if mid := (lo + hi) / 2; yes(mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi, true
	}
	return math.NaN(), false
}

// shown rounds as a display does.
func (rc receiver) shown(depthM float64) float64 {
	return math.Round(depthM/rc.stepM) * rc.stepM
}
