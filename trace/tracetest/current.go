package tracetest

import (
	"math"

	"loamline.example/geo"
)

// supply is the current that the transmitter drives along one line, with what
// it loses on the way and what neighbours take over.
type supply struct {
	line      Line
	amps      float64 // at the start of the traced stretch
	perM      float64 // attenuation, neper a metre
	tees      []tee
	couplings []activeCoupling
}

// tee is a branch that takes a share of the current away at a station.
type tee struct {
	stationM float64
	share    float64
	branch   Line
}

// activeCoupling is a neighbour carrying part of the signal over a stretch.
type activeCoupling struct {
	neighbor
	line       Line
	fromM, toM float64
}

// window rises from 0 to 1 and falls again, with cosine ends about fromM and
// toM.
func (c activeCoupling) window(stationM float64) float64 {
	edge := func(d float64) float64 {
		t := math.Max(0, math.Min(1, d/c.smoothM+0.5))
		return (1 - math.Cos(math.Pi*t)) / 2
	}
	return edge(stationM-c.fromM) * edge(c.toM-stationM)
}

// sent is the line's current before any neighbour takes its share.
func (s supply) sent(stationM float64) float64 {
	a := s.amps * math.Exp(-s.perM*(stationM-s.line.FromM))
	for _, t := range s.tees {
		if stationM > t.stationM {
			a *= 1 - t.share
		}
	}
	return a
}

func (s supply) own(stationM float64) complex128 {
	a := complex(s.sent(stationM), 0)
	for _, c := range s.couplings {
		a -= complex(c.sharing*c.window(stationM)*s.sent(stationM), 0) * c.ratio
	}
	return a
}

// lineScene is the field of the line and its branches without any neighbour.
func (s supply) lineScene(own func(float64) complex128) scene {
	sc := scene{wires: []wire{s.line.wire(own)}}
	for _, t := range s.tees {
		a := complex(s.sent(t.stationM)*t.share, 0)
		sc.wires = append(sc.wires, t.branch.wire(func(float64) complex128 { return a }))
	}
	return sc
}

// scenes returns the field with all conductors and that of the line alone.
func (s supply) scenes(dipoles []dipole) (all, alone scene) {
	alone = s.lineScene(func(st float64) complex128 { return complex(s.sent(st), 0) })
	all = s.lineScene(s.own)
	for _, c := range s.couplings {
		all.wires = append(all.wires, c.line.wire(func(st float64) complex128 {
			f := s.line.Path.Nearest(c.line.Path.At(st))
			return c.ratio * complex(s.sent(f.StationM)*c.window(f.StationM), 0)
		}))
	}
	alone.dipoles, all.dipoles = dipoles, dipoles
	return all, alone
}

// strongest returns the coupling that matters most at a station, nil where no
// neighbour carries more than a twentieth of its full share.
func (s supply) strongest(stationM float64) *activeCoupling {
	var best *activeCoupling
	top := 0.05
	for i := range s.couplings {
		if w := s.couplings[i].window(stationM); w > top {
			best, top = &s.couplings[i], w
		}
	}
	return best
}

// branchAt makes the tee's branch: straight off to one side at the line's
// depth.
func branchAt(l Line, stationM, side, lengthM float64) Line {
	dir := l.Path.Direction(stationM)
	s := newShape(l.Path.At(stationM), math.Atan2(dir.Y, dir.X)+side*math.Pi/2)
	s.straight(lengthM)
	d := l.DepthAt(stationM)
	b := newLine("branch", s, Profile{Knots: []Knot{{0, d}, {s.length, d}}})
	b.Hidden = true
	return b
}

// bury makes the neighbour's line beside the main line.
func (n neighbor) bury(main Line, waves []Wave) Line {
	length := main.Path.Length()
	pts := main.beside(0, length, func(st float64) float64 { return n.offsetM(st-main.FromM, main.ToM-main.FromM) })
	pl := geo.NewPolyline(pts)
	p := Profile{Knots: []Knot{{0, n.depthM}, {pl.Length(), n.depthM}}, Waves: waves}
	l := Line{Name: n.name, Path: pl, Profile: p, Known: n.known, Hidden: n.hidden, ToM: pl.Length()}
	for i := range pts {
		l.DepthM = append(l.DepthM, p.At(pl.Station(i)))
	}
	l.Elements = []Element{{Wander, 0, pl.Length(), 0}}
	l.FromM = pl.Nearest(main.Path.At(main.FromM)).StationM
	l.ToM = pl.Nearest(main.Path.At(main.ToM)).StationM
	return l
}
