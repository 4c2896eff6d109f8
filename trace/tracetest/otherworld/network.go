package otherworld

import (
	"math"
	"math/cmplx"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// feed is the signal in a line: the current at every station, as a phasor.
type feed struct {
	hookM   float64 // where the transmitter is
	amps    float64 // there
	perM    complex128
	endM    float64 // where the conductor ends
	open    bool    // insulated there
	bothWay bool    // induced: it runs off to both sides
	branch  [3]float64
	share   float64 // that turns off into a branch, walked out and back
	bonds   []bondedPart
}

// bondedPart is a stretch along which bonds leave the line only a part of its
// current: what a bond takes, the line no longer has.
type bondedPart struct {
	fromM, toM float64
	left       complex128
}

// at follows the telegrapher's equations: the current dies away exponentially,
// and towards an insulated end as sinh (Sunde, Earth Conduction Effects in
// Transmission Systems, from memory).
func (f feed) at(s float64) complex128 {
	if s < f.hookM && !f.bothWay {
		return 0
	}
	i := complex(f.amps, 0) * cmplx.Exp(-f.perM*complex(math.Abs(s-f.hookM), 0))
	if f.open && s >= f.hookM {
		i = complex(f.amps, 0) * cmplx.Sinh(f.perM*complex(f.endM-s, 0)) / cmplx.Sinh(f.perM*complex(f.endM-f.hookM, 0))
	}
	for _, b := range f.bonds {
		if s > b.fromM && s < b.toM {
			i *= b.left
		}
	}
	if f.share == 0 || s < f.branch[0] {
		return i
	}
	switch {
	case s < f.branch[1]: // less and less towards the branch's end
		return i * complex(f.share*math.Sqrt((f.branch[1]-s)/(f.branch[1]-f.branch[0])), 0)
	case s < f.branch[2]: // the same conductor again
		return 0
	}
	return i * complex(1-f.share, 0)
}

// conduct lays current into a stretch of a line as straight pieces.
func conduct(l tracetest.Line, fromM, toM float64, amps func(s float64) complex128) []filament {
	const pieceM, bowM = 4.0, 0.004
	var cuts []float64
	for i := range l.Path.Points {
		if s := l.Path.Station(i); s > fromM && s < toM {
			cuts = append(cuts, s)
		}
	}
	cuts = append(append([]float64{math.Max(0, fromM)}, cuts...), math.Min(toM, l.Path.Length()))
	at := func(s float64) vec {
		p := l.Path.At(s)
		return vec{p.X, p.Y, -l.DepthAt(s)}
	}
	var out []filament
	for i := 0; i+1 < len(cuts); {
		k := i + 1
		for k+1 < len(cuts) && cuts[k+1]-cuts[i] <= pieceM && bow(at, cuts[i:k+2]) < bowM {
			k++
		}
		if c := amps((cuts[i] + cuts[k]) / 2); c != 0 && cuts[k]-cuts[i] > 1e-9 {
			out = append(out, filament{at(cuts[i]), at(cuts[k]), c})
		}
		i = k
	}
	return out
}

// bow is how far the places between lie from the chord.
func bow(at func(float64) vec, cuts []float64) float64 {
	f := filament{from: at(cuts[0]), to: at(cuts[len(cuts)-1])}
	var worst float64
	for _, s := range cuts[1 : len(cuts)-1] {
		worst = math.Max(worst, f.distance(at(s)))
	}
	return worst
}

// coupling says what part of a line's signal another conductor carries, and
// along which stretch.
type coupling struct {
	ratio      complex128 // of the line's own current beside it
	fromM, toM float64    // on the line
	taperM     float64    // over which it comes and goes; zero is a bond
	bond       bool       // through straps, and not through the ground
}

// leaves is what the line has left of its current. A current that comes back
// in the neighbour (the ratio's real part below zero) was taken at the far bond
// and is missing beyond it; a current that runs beside the line's own was taken
// at the first bond and given back at the second.
func (c coupling) leaves() bondedPart {
	if real(c.ratio) < 0 {
		return bondedPart{c.toM, math.Inf(1), 1 + c.ratio}
	}
	return bondedPart{c.fromM, c.toM, 1 / (1 + c.ratio)}
}

// straps carry a bonded neighbour's current over at its ends.
func (c coupling) straps(l, n tracetest.Line, f feed) []filament {
	var out []filament
	if c.fromM > 0 {
		out = append(out, strap(l, n, c.fromM, c.ratio*f.at(c.fromM+1e-6)))
	}
	if c.toM < l.Path.Length() {
		out = append(out, strap(l, n, c.toM, -c.ratio*f.at(c.toM-1e-6)))
	}
	return out
}

// window is 0 to 1.
func (c coupling) window(s float64) float64 {
	up := func(x float64) float64 {
		if c.taperM < 0.1 {
			return step(x >= 0)
		}
		return 1 / (1 + math.Exp(-4*x/c.taperM))
	}
	return up(s-c.fromM) * up(c.toM-s)
}

func step(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// strap is the bond between a line and its neighbour at a station.
func strap(l, n tracetest.Line, stationM float64, current complex128) filament {
	p := l.Path.At(stationM)
	f := n.Path.Nearest(p)
	q := n.Path.At(f.StationM)
	return filament{vec{p.X, p.Y, -l.DepthAt(stationM)}, vec{q.X, q.Y, -n.DepthAt(f.StationM)}, current}
}

// lead is the transmitter's own wiring: down to the line, and over the ground
// from the stake.
func lead(l tracetest.Line, f feed, stakeM, swingRad float64) []filament {
	p := l.Path.At(f.hookM)
	r := rightward(l.Path.Direction(f.hookM))
	c, s := math.Cos(swingRad), math.Sin(swingRad)
	q := p.Add(geo.XY{X: r.X*c - r.Y*s, Y: r.X*s + r.Y*c}.Scale(stakeM))
	top, i := vec{p.X, p.Y, 0}, complex(f.amps, 0)
	return []filament{{vec{q.X, q.Y, 0}, top, i}, {top, vec{p.X, p.Y, -l.DepthAt(f.hookM)}, i}}
}
