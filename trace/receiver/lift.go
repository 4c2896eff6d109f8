package receiver

import "math/cmplx"

// LiftBand is how far the growth of a depth may be from the lift, as a part of it (common
// practice, no source).
const LiftBand = 0.15

// Lifted is the outcome of a lift test: the receiver raised straight up.
type Lifted struct {
	DepthM      float64 // shown from the raised position
	GrowthM     float64 // by how much the depth shown grew
	SignalRatio float64 // signal raised over signal on the ground
}

// Lift raises the receiver by liftM at x. A single line's depth grows by the
// lift and its signal falls to d/(d+lift); an air-coupled field's does not.
// Same-direction coupling within about one depth passes the test all the same.
func (s Section) Lift(xM, gapM, liftM float64) Lifted {
	at := func(zM float64) float64 { return cmplx.Abs(s.Bh(xM, zM)) }
	ground := TwoAntennaDepthM(at(0), at(gapM), gapM)
	raised := TwoAntennaDepthM(at(liftM), at(liftM+gapM), gapM)
	return Lifted{raised, raised - ground, at(liftM) / at(0)}
}
