package otherworld

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// plan draws a line from above, piece by piece.
type plan struct {
	points   []geo.XY
	headRad  float64
	corners  []mark
	elements []mark
	sways    []tracetest.Wave
}

// mark is a vertex, or a run of vertices, with something to say about it.
type mark struct {
	from, to int
	kind     tracetest.Kind
	value    float64 // turn in degrees, or radius
}

// chordM is the longest piece of a plan: depths are given at its vertices.
const chordM = 0.5

func newPlan(headRad float64) *plan { return &plan{points: []geo.XY{{}}, headRad: headRad} }

func (p *plan) here() (int, geo.XY) { n := len(p.points) - 1; return n, p.points[n] }

func (p *plan) straight(lengthM float64) *plan {
	first, at := p.here()
	d := geo.XY{X: math.Cos(p.headRad), Y: math.Sin(p.headRad)}
	n := max(1, int(math.Ceil(lengthM/chordM)))
	for i := 1; i <= n; i++ {
		p.points = append(p.points, at.Add(d.Scale(lengthM*float64(i)/float64(n))))
	}
	p.elements = append(p.elements, mark{from: first, to: first + n, kind: tracetest.Straight})
	return p
}

// bend is an arc; turns are in radians, positive to the left.
func (p *plan) bend(radiusM, turnRad float64) *plan {
	first, at := p.here()
	side := math.Copysign(1, turnRad)
	center := at.Add(geo.XY{X: -math.Sin(p.headRad), Y: math.Cos(p.headRad)}.Scale(side * radiusM))
	n := max(2, int(math.Ceil(radiusM*math.Abs(turnRad)/math.Min(chordM, radiusM/6))))
	for i := 1; i <= n; i++ {
		h := p.headRad + turnRad*float64(i)/float64(n)
		p.points = append(p.points, center.Add(geo.XY{X: math.Sin(h), Y: -math.Cos(h)}.Scale(side*radiusM)))
	}
	p.headRad += turnRad
	p.elements = append(p.elements, mark{from: first, to: first + n, kind: tracetest.Arc, value: radiusM})
	return p
}

// elbow is a fitting: the line turns on the spot.
func (p *plan) elbow(turnRad float64) *plan {
	i, _ := p.here()
	p.corners = append(p.corners, mark{from: i, to: i, value: turnRad * 180 / math.Pi})
	p.headRad += turnRad
	return p
}

// turn is a fitting or a sweep.
func (p *plan) turn(r rng, turnRad float64) *plan {
	if r.yes(0.6) {
		return p.elbow(turnRad)
	}
	return p.bend(r.scale(0.5, 5), turnRad)
}

// line buries a plan. Breaks of the profile become vertices.
func (p *plan) line(name string, prof tracetest.Profile) tracetest.Line {
	pts := p.swayed()
	path := geo.NewPolyline(pts)
	l := tracetest.Line{Name: name, Profile: prof, Sways: p.sways}
	for _, c := range p.corners {
		l.Corners = append(l.Corners, tracetest.Corner{StationM: path.Station(c.from), TurnDeg: c.value})
	}
	for _, e := range p.elements {
		l.Elements = append(l.Elements, tracetest.Element{Kind: e.kind, FromM: path.Station(e.from), ToM: path.Station(e.to), RadiusM: e.value})
	}
	cuts := make([]float64, 0, len(pts)+len(prof.Knots))
	for i := range pts {
		cuts = append(cuts, path.Station(i))
	}
	for _, k := range prof.Knots {
		if k.StationM > 0 && k.StationM < path.Length() {
			cuts = append(cuts, k.StationM)
		}
	}
	sort.Float64s(cuts)
	var kept []geo.XY
	last := math.Inf(-1)
	for _, c := range cuts {
		if c-last < 1e-6 {
			continue
		}
		kept, l.DepthM, last = append(kept, path.At(c)), append(l.DepthM, prof.At(c)), c
	}
	l.Path = geo.NewPolyline(kept)
	l.ToM = l.Path.Length()
	return l
}

// swayed moves the plan sideways by its slow waves.
func (p *plan) swayed() []geo.XY {
	if len(p.sways) == 0 {
		return p.points
	}
	path := geo.NewPolyline(p.points)
	out := make([]geo.XY, len(p.points))
	for i, q := range p.points {
		s := path.Station(i)
		var off float64
		for _, w := range p.sways {
			off += w.AmplitudeM * math.Sin(2*math.Pi*s/w.LengthM+w.PhaseRad)
		}
		out[i] = q.Add(rightward(path.Direction(s)).Scale(off))
	}
	return out
}

// rightward is the unit vector to the right of a direction.
func rightward(d geo.XY) geo.XY { return geo.XY{X: d.Y, Y: -d.X} }

// across is the direction to the right at a station, of the chord over a
// stretch about it: at an elbow it halves the angle.
func across(path geo.Polyline, stationM, halfM float64) geo.XY {
	a, b := path.At(math.Max(0, stationM-halfM)), path.At(math.Min(path.Length(), stationM+halfM))
	d := b.Sub(a)
	if n := d.Norm(); n > 0.2*halfM {
		return rightward(d.Scale(1 / n))
	}
	return rightward(path.Direction(stationM))
}

// beside is a plan that keeps an offset to the right of a line.
func beside(l tracetest.Line, offsetM func(stationM float64) float64) *plan {
	p := &plan{}
	for s := 0.0; s <= l.Path.Length(); s += chordM {
		off := offsetM(s)
		q := l.Path.At(s).Add(across(l.Path, s, math.Max(0.5, math.Abs(off))).Scale(off))
		if n := len(p.points); n > 0 && q.Dist(p.points[n-1]) < 0.05 {
			continue
		}
		p.points = append(p.points, q)
	}
	p.elements = []mark{{from: 0, to: len(p.points) - 1, kind: tracetest.Straight}}
	return p
}

// tails lets the line go on straight beyond both ends of what is traced.
func (p *plan) tails(beforeM, afterM float64) *plan {
	p.straight(afterM)
	d := p.points[0].Sub(p.points[1])
	d = d.Scale(1 / d.Norm())
	n := max(1, int(math.Ceil(beforeM/chordM)))
	pre := make([]geo.XY, n, n+len(p.points))
	for i := range pre {
		pre[i] = p.points[0].Add(d.Scale(beforeM * float64(n-i) / float64(n)))
	}
	p.points = append(pre, p.points...)
	for _, ms := range [][]mark{p.corners, p.elements} {
		for i := range ms {
			ms[i].from, ms[i].to = ms[i].from+n, ms[i].to+n
		}
	}
	p.elements = append([]mark{{from: 0, to: n, kind: tracetest.Straight}}, p.elements...)
	return p
}
