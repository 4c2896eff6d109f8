package otherworld

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// positioning is the satellite receiver on one day.
type positioning struct {
	fixes  []int // that it changes between
	dwellM float64
	sigmaM map[int]float64
	noise  tracetest.Noise
	jitter float64 // of the accuracy stated, relative
	blank  float64 // share of readings without an accuracy
	lies   int     // kind of fix shown in place of the true one; 0 where right
}

// fixSigma is the usual error of each kind of fix, per axis, one sigma (common
// practice, no source; the codes are those of GGA in NMEA 0183).
var fixSigma = map[int][2]float64{4: {0.008, 0.04}, 5: {0.12, 0.7}, 2: {0.3, 1.3}, 1: {1.2, 4}}

func drawPositioning(r rng) positioning {
	p := positioning{fixes: []int{4}, dwellM: r.scale(8, 60), jitter: r.in(0, 0.25), sigmaM: map[int]float64{}}
	switch u := r.Float64(); {
	case u < 0.55:
	case u < 0.70:
		p.fixes = []int{5}
	case u < 0.80:
		p.fixes = []int{2}
	case u < 0.85:
		p.fixes = []int{1}
	default:
		p.fixes = []int{4, 5}
	}
	for _, k := range []int{1, 2, 4, 5} {
		p.sigmaM[k] = r.scale(fixSigma[k][0], fixSigma[k][1])
	}
	p.noise = tracetest.Noise{TauS: r.scale(20, 900), CommonShare: r.in(0.3, 0.95), Stated: tracetest.StatedRight, Optimism: 1}
	if r.yes(0.3) {
		p.noise.FixedShare = r.in(0.1, 0.6)
		p.noise.CommonShare *= 1 - p.noise.FixedShare
	}
	switch u := r.Float64(); {
	case u < 0.5:
	case u < 0.8:
		p.stateOff(r)
	default:
		p.noise.Stated = tracetest.StatedAbsent
	}
	if r.yes(0.2) {
		p.blank = r.in(0.02, 0.4)
	}
	if r.yes(0.06) {
		p.lies = pick(r, 4, 4, 5, 1)
	}
	return p
}

// stateOff makes the accuracy stated wrong by a factor of 0.3 to 3.
func (p *positioning) stateOff(r rng) {
	p.noise.Stated, p.noise.Optimism = tracetest.StatedOff, r.scale(0.3, 3)
}

// drift gives the position's error reading by reading: an offset that stays, a
// Gauss-Markov part on each axis, and white noise, all scaled by the sigma of
// the fix in use.
type drift struct {
	positioning
	r          rng
	fixed, now geo.XY
	lastS      float64
	begun      bool
	fix        int
	leftM      float64
	lastM      float64
}

func (e *drift) next(timeS, stationM float64) (off geo.XY, sigmaM float64, fix int) {
	n, r := e.noise, e.r
	both := func() geo.XY { return geo.XY{X: r.gauss(1), Y: r.gauss(1)} }
	if !e.begun {
		e.begun, e.fixed, e.now = true, both(), both()
		e.fix, e.leftM = e.fixes[0], r.in(0, e.dwellM)
	} else {
		keep := math.Exp(-math.Abs(timeS-e.lastS) / n.TauS)
		e.now = e.now.Scale(keep).Add(both().Scale(math.Sqrt(1 - keep*keep)))
	}
	e.leftM -= math.Abs(stationM - e.lastM)
	if e.leftM < 0 {
		e.fix, e.leftM = pick(r, e.fixes...), e.dwellM*r.in(0.3, 1.7)
	}
	e.lastS, e.lastM = timeS, stationM
	sigmaM = e.sigmaM[e.fix]
	off = e.fixed.Scale(math.Sqrt(n.FixedShare)).Add(e.now.Scale(math.Sqrt(n.CommonShare))).
		Add(both().Scale(math.Sqrt(1 - n.FixedShare - n.CommonShare)))
	return off.Scale(sigmaM), sigmaM, e.fix
}

// state writes what the receiver says of itself.
func (e *drift) state(rd *tracetest.Reading, sigmaM float64, fix int) {
	rd.Fix = fix
	if e.lies != 0 {
		rd.Fix = e.lies
	}
	rd.HDOP = math.Round(10*e.r.scale(0.6, 2.5)) / 10
	rd.HAccM = math.NaN()
	if !e.r.yes(e.blank) {
		rd.HAccM = sigmaM * e.noise.Optimism * math.Exp(e.r.gauss(e.jitter))
	}
}

// roundTo rounds a position to a grid of degrees' digits and returns the
// rounding's own sigma per axis.
func roundTo(plane geo.Plane, p geo.XY, digits int) (geo.XY, float64) {
	f := math.Pow10(digits)
	ll := plane.LonLat(p)
	q := plane.XY(geo.LonLat{LonDeg: math.Round(ll.LonDeg*f) / f, LatDeg: math.Round(ll.LatDeg*f) / f})
	stepM := 111200 / f
	c := math.Cos(ll.LatDeg * math.Pi / 180)
	return q, stepM * math.Sqrt((1+c*c)/2/12)
}

// roundToFeet rounds to whole feet of a grid.
func roundToFeet(plane geo.Plane, crs geo.CRS, p geo.XY) (geo.XY, float64, error) {
	e, n, err := crs.Project(plane.LonLat(p))
	if err != nil {
		return p, 0, err
	}
	ll, err := crs.Unproject(math.Round(e/geo.FootM)*geo.FootM, math.Round(n/geo.FootM)*geo.FootM)
	return plane.XY(ll), geo.FootM / math.Sqrt(12), err
}
