package otherworld

import (
	"math"

	"loamline.example/trace/tracetest"
)

// neighbor is another conductor to be buried beside the main line.
type neighbor struct {
	name    string
	offsetM func(u float64) float64 // to the right, u 0 to 1 over the traced stretch
	crossAt float64                 // u where it crosses straight, at crossRad; NaN where it keeps beside
	crossRd float64
	depthBy float64 // times the main line's depth
	known   bool
	hidden  bool
	traced  bool
	couple  *coupling // stations in u until it is buried
	jump    bool
}

// parallel is a neighbour without signal, side by side.
func (w *world) parallel(sepM float64) *neighbor {
	r := w.r
	side := r.side()
	drift, lambda, phase := r.in(0, 0.08)*sepM, r.in(0.5, 2), r.in(0, 2*math.Pi)
	n := &neighbor{name: w.freeName(), crossAt: math.NaN(), depthBy: r.scale(0.6, 1.6)}
	n.offsetM = func(u float64) float64 { return side * (sepM + drift*math.Sin(2*math.Pi*lambda*u+phase)) }
	switch r.IntN(4) {
	case 0, 1:
		n.known = true
	case 2:
		n.traced, n.known = true, r.yes(0.3)
	default:
		n.hidden = true
	}
	w.neighbors = append(w.neighbors, n)
	return n
}

// converging comes from afar to near and, half the time, leaves again.
func (w *world) converging(nearM, farM float64) *neighbor {
	n := w.parallel(nearM)
	side, at, back := w.r.side(), w.r.in(0.35, 0.75), w.r.yes(0.5)
	reach := w.r.in(0.15, 0.35)
	n.offsetM = func(u float64) float64 {
		x := math.Abs(u-at) / reach
		if !back && u > at {
			x = 0
		}
		x = math.Min(1, x)
		return side * (nearM + (farM-nearM)*x*x*(3-2*x))
	}
	return n
}

// crossing lies across.
func (w *world) crossing() *neighbor {
	n := w.parallel(1)
	n.crossAt, n.crossRd = w.r.in(0.25, 0.75), w.r.side()*deg(w.r.in(25, 90))
	return n
}

// crossOver lies beside, changes sides and goes on beside.
func (w *world) crossOver(sepM float64, at float64) *neighbor {
	n := w.parallel(sepM)
	side, soft := w.r.side(), w.r.in(0.01, 0.05)
	n.offsetM = func(u float64) float64 { return side * sepM * math.Tanh((u-at)/soft) }
	return n
}

func (n *neighbor) unknown() *neighbor { n.known, n.hidden, n.traced = false, true, false; return n }

func (n *neighbor) onRecord(r rng) *neighbor {
	n.hidden, n.traced = false, r.yes(0.3)
	n.known = !n.traced || r.yes(0.5)
	return n
}

// carries gives the neighbour part of the line's signal between two places.
func (n *neighbor) carries(q complex128, from, to, taperM float64) *neighbor {
	n.couple = &coupling{ratio: q, fromM: from, toM: to, taperM: taperM}
	return n
}

func (w *world) freeName() string {
	const utilities = "GEWCSR"
	return string(utilities[len(w.neighbors)%len(utilities)]) + "-" + string(rune('2'+len(w.neighbors)))
}

// bury lays the neighbour in the ground.
func (n *neighbor) bury(r rng, main tracetest.Line) tracetest.Line {
	length := main.ToM - main.FromM
	var p *plan
	if math.IsNaN(n.crossAt) {
		p = beside(main, func(s float64) float64 {
			return n.offsetM(math.Max(-0.1, math.Min(1.1, (s-main.FromM)/length)))
		})
	} else {
		at := main.FromM + n.crossAt*length
		d := main.Path.Direction(at)
		p = newPlan(math.Atan2(d.Y, d.X) + n.crossRd)
		reach := r.in(15, 40)
		p.straight(2 * reach)
		shift := main.Path.At(at).Sub(p.points[len(p.points)/2])
		for i := range p.points {
			p.points[i] = p.points[i].Add(shift)
		}
	}
	var mean float64
	for s := main.FromM; s <= main.ToM; s += length / 8 {
		mean += main.DepthAt(s) / 9
	}
	depth := math.Max(0.3, math.Min(3, n.depthBy*mean))
	prof := tracetest.Profile{Knots: []tracetest.Knot{{StationM: 0, DepthM: depth}, {StationM: 1e4, DepthM: depth}}}
	if r.yes(0.6) {
		prof.Waves = []tracetest.Wave{{AmplitudeM: 0.08 * depth, LengthM: r.in(20, 80), PhaseRad: r.in(0, 6)}}
	}
	l := p.line(n.name, prof)
	l.Known, l.Hidden = n.known, n.hidden
	if !math.IsNaN(n.crossAt) {
		return l
	}
	l.FromM, l.ToM = math.Min(5, l.Path.Length()/4), math.Max(l.Path.Length()-5, 3*l.Path.Length()/4)
	return l
}
