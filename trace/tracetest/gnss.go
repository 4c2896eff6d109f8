package tracetest

import (
	"math"

	"loamline.example/geo"
)

// Stated says how the positioning receiver's own accuracy figure relates to
// its error.
type Stated string

// The ways of stating accuracy.
const (
	StatedRight      Stated = "right"
	StatedOptimistic Stated = "optimistic" // 0.3 to 0.6 of the true figure
	StatedOff        Stated = "off"        // by any factor, see Optimism
	StatedAbsent     Stated = "absent"
)

// Noise is the position noise of one trace: a first-order Gauss-Markov process
// plus white noise on each axis, both scaled by the sigma of the fix in use.
type Noise struct {
	TauS        float64 // time constant of the Gauss-Markov part
	CommonShare float64 // its share of the variance
	Stated      Stated
	Optimism    float64 // stated over true sigma
	PinpointRel float64 // error of pinpointing the peak, per depth, one sigma
	PinpointMin float64 // and its floor in metres
	FixedShare  float64 // of the variance that one offset makes, the same over the whole job
}

// sigmaRange is the per-axis error of each kind of fix, one sigma in metres:
// common practice, no single source (see the fix's entry in NMEA 0183 GGA for
// the codes; float after published field guides, differential after FAA WAAS
// performance reports).
func sigmaRange(fix int) (lo, hi float64) {
	switch fix {
	case 4:
		return 0.01, 0.02
	case 5:
		return 0.1, 0.4
	case 2:
		return 0.3, 0.6
	default:
		return 1.0, 1.5
	}
}

// positioning is a receiver with a state that drifts.
type positioning struct {
	noise  Noise
	r      random
	atS    float64
	markov geo.XY // unit variance
	up     float64
	begun  bool
}

// errorAt returns the error of a position at a time, for a sigma in metres;
// times must not fall.
func (p *positioning) errorAt(timeS, sigmaM float64) (e geo.XY, upM float64) {
	if !p.begun {
		p.markov = geo.XY{X: p.r.norm(1), Y: p.r.norm(1)}
		p.up = p.r.norm(1)
		p.begun = true
	} else {
		keep := math.Exp(-(timeS - p.atS) / p.noise.TauS)
		new := math.Sqrt(1 - keep*keep)
		p.markov = p.markov.Scale(keep).Add(geo.XY{X: p.r.norm(new), Y: p.r.norm(new)})
		p.up = keep*p.up + p.r.norm(new)
	}
	p.atS = timeS
	common, white := math.Sqrt(p.noise.CommonShare), math.Sqrt(1-p.noise.CommonShare)
	e = p.markov.Scale(common).Add(geo.XY{X: p.r.norm(white), Y: p.r.norm(white)}).Scale(sigmaM)
	return e, 1.6 * sigmaM * (common*p.up + p.r.norm(white))
}

// stated returns the accuracy that the receiver shows for a sigma.
func (p *positioning) stated(sigmaM float64) float64 {
	jitter := 1 + p.r.norm(0.08)
	if p.noise.Stated == StatedAbsent {
		return math.NaN()
	}
	return sigmaM * p.noise.Optimism * math.Max(0.5, jitter)
}

// hdop draws a dilution of precision that suits the fix.
func (p *positioning) hdop(fix int) float64 {
	base := 0.9
	if fix == 1 {
		base = 1.5
	} else if fix != 4 {
		base = 1.2
	}
	return base * math.Exp(p.r.norm(0.18))
}
