package tracetest

import (
	"math"

	"loamline.example/geo"
)

// recipe says how a job of a family is made. A family starts from ordinary
// and changes what it is about.
type recipe struct {
	r      random
	shape  func(*shape, random)
	lead   bool    // the line goes on beyond the traced stretch
	depthM float64 // typical
	ramps  int
	steps  int
	waveM  float64 // amplitude of slow undulation, per depth
	diveM  float64 // depth that the line goes to for a while; 0 for none

	currentMA float64
	dBPerKm   float64
	tees      int
	hookup    string
	freqHz    float64
	transmit  bool // induction transmitter near the start
	beginAt   bool // the walk begins beside it

	spacingM   float64
	passes     int
	reverse    bool // passes alternate in direction
	backForth  bool // turns round on the way now and then
	unordered  bool
	gapM       float64
	raised     int
	exposed    int
	fix        []int // one, or several in turn along the walk
	noise      Noise
	blunders   float64 // share of the readings
	spikes     float64
	antennaRel float64 // noise of each antenna, relative
	depthRel   float64 // further depth noise, relative
	nullM      float64 // error of reading the null
	currentRel float64 // current error beyond what depth gives

	scale   float64 // by which the receiver's depths are off, ln
	besideM float64 // by which the whole track lies beside the line, but for what is dug open
	digits  int     // of degrees; 0 for what the layout draws

	neighbors []neighbor
	onRecord  bool            // the line itself is on the reference layer
	projected bool            // positions on a grid
	keep      map[string]bool // columns that the layout must have
	drop      map[string]bool // columns that it must not have
}

// neighbor is another conductor near the main line.
type neighbor struct {
	name     string
	offsetM  func(stationM, lengthM float64) float64 // to the right of the main line
	depthM   float64
	known    bool // on the reference layer
	traced   bool
	hidden   bool
	ratio    complex128 // coupled current over the line's own
	fromFrac float64    // of the traced stretch
	toFrac   float64
	smoothM  float64
	sharing  float64 // of the coupled current taken from the line itself
	jump     bool    // the walk follows this conductor over the stretch
}

// ordinary returns the everyday job: a straight line, direct hookup, RTK,
// nothing wrong.
func ordinary(r random) *recipe {
	rc := &recipe{
		r: r, lead: true, depthM: r.between(0.6, 1.6), waveM: 0.03,
		shape:     func(s *shape, r random) { s.straight(r.between(50, 180)) },
		currentMA: r.ratio(20, 200), dBPerKm: r.between(5, 60),
		hookup: "direct", freqHz: oneOf(r, 512.0, 8192, 8192, 32768, 33000, 65536),
		spacingM: r.between(1.5, 5), passes: 1,
		fix:        []int{4},
		antennaRel: r.between(0.004, 0.008), depthRel: 0.012,
		nullM: r.between(0.02, 0.04), currentRel: r.between(0.02, 0.05),
		keep: map[string]bool{}, drop: map[string]bool{},
	}
	rc.noise = Noise{
		TauS: r.ratio(15, 400), CommonShare: r.between(0.3, 0.9), Stated: StatedRight,
		PinpointRel: r.between(0.02, 0.05), PinpointMin: 0.015,
	}
	return rc
}

// profile draws the depth profile for a line of a length.
func (rc *recipe) profile(lengthM, depthM float64) Profile {
	r := rc.r
	p := Profile{}
	d := depthM
	p.Knots = append(p.Knots, Knot{0, d})
	n := rc.ramps + rc.steps
	for i := range n {
		s := lengthM * (float64(i) + r.between(0.35, 0.65)) / float64(n)
		width := r.between(0.3, 0.6)
		if i < rc.ramps {
			width = math.Min(r.between(6, 25), 0.5*lengthM/float64(n))
		}
		next := d + r.sign()*r.between(0.25, 0.5)*depthM
		if next < 0.4 {
			next = d + r.between(0.3, 0.6)
		}
		p.Knots = append(p.Knots, Knot{s - width/2, d}, Knot{s + width/2, next})
		d = next
	}
	if rc.diveM > 0 {
		from := lengthM * r.between(0.3, 0.45)
		to := from + r.between(4, 20)
		down := r.between(1, 6)
		p.Knots = append(p.Knots, Knot{from - down, d}, Knot{from, rc.diveM}, Knot{to, rc.diveM}, Knot{to + down, d})
	}
	p.Knots = append(p.Knots, Knot{lengthM, d})
	for range 3 {
		p.Waves = append(p.Waves, Wave{rc.waveM * depthM * r.between(0.2, 0.8), r.between(20, 70), r.between(0, 2*math.Pi)})
	}
	return p
}

// plan buries the main line.
func (rc *recipe) plan() Line {
	r := rc.r
	s := newShape(geo.XY{X: r.norm(20), Y: r.norm(20)}, r.between(0, 2*math.Pi))
	lead := 25.0
	if rc.lead {
		s.straight(lead)
	}
	from := s.length
	rc.shape(s, r)
	to := s.length
	if rc.lead {
		s.straight(lead)
	}
	l := newLine("A", s, rc.profile(s.length, rc.depthM))
	l.FromM, l.ToM = from, to
	return l
}
