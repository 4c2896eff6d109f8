package tracetest

import (
	"math"
	"sort"

	"loamline.example/geo"
)

// Line is a buried line: the truth. Stations run along the whole buried path,
// which goes on beyond the traced stretch at both ends.
type Line struct {
	Name     string
	Utility  string // class of the colour code
	Path     geo.Polyline
	DepthM   []float64 // ground to the centre, one a vertex of Path
	Elements []Element // of the plan, in stations of Path
	Corners  []Corner
	FromM    float64 // the traced stretch
	ToM      float64
	Known    bool // drawn in the reference layer
	Hidden   bool // neither traced nor on any record
	Profile  Profile
	Sways    []Wave // of the plan, sideways
}

// Knot is a break of the depth profile.
type Knot struct{ StationM, DepthM float64 }

// Wave is one component of the profile's slow undulation.
type Wave struct{ AmplitudeM, LengthM, PhaseRad float64 }

// Profile is depth against station: straight between knots, plus waves.
type Profile struct {
	Knots []Knot
	Waves []Wave
}

// At returns the depth of the line's centre below ground, in metres.
func (p Profile) At(stationM float64) float64 {
	d := p.ramp(stationM)
	for _, w := range p.Waves {
		d += w.AmplitudeM * math.Sin(2*math.Pi*stationM/w.LengthM+w.PhaseRad)
	}
	return math.Max(d, 0.15)
}

func (p Profile) ramp(stationM float64) float64 {
	k := p.Knots
	i := sort.Search(len(k), func(i int) bool { return k[i].StationM >= stationM })
	switch {
	case i == 0:
		return k[0].DepthM
	case i == len(k):
		return k[len(k)-1].DepthM
	}
	t := (stationM - k[i-1].StationM) / (k[i].StationM - k[i-1].StationM)
	return k[i-1].DepthM + t*(k[i].DepthM-k[i-1].DepthM)
}

// DepthAt returns the true depth at a station.
func (l Line) DepthAt(stationM float64) float64 { return l.Profile.At(stationM) }

// Traced returns the path over the traced stretch.
func (l Line) Traced() []geo.XY { return l.Path.Slice(l.FromM, l.ToM) }

// newLine joins a plan and a depth profile; the profile's breaks become
// vertices.
func newLine(name string, s *shape, p Profile) Line {
	plan := geo.NewPolyline(s.points)
	cuts := make([]float64, 0, len(s.points)+len(p.Knots))
	for i := range s.points {
		cuts = append(cuts, plan.Station(i))
	}
	for _, k := range p.Knots {
		if k.StationM > 0 && k.StationM < plan.Length() {
			cuts = append(cuts, k.StationM)
		}
	}
	sort.Float64s(cuts)
	l := Line{Name: name, Elements: s.elements, Corners: s.corners, Profile: p, ToM: plan.Length()}
	var pts []geo.XY
	for i, c := range cuts {
		if i > 0 && c-cuts[i-1] < 1e-6 {
			continue
		}
		pts = append(pts, plan.At(c))
		l.DepthM = append(l.DepthM, p.At(c))
	}
	l.Path = geo.NewPolyline(pts)
	return l
}

// wire lays current into the line; amps gives the current at a station.
func (l Line) wire(amps func(stationM float64) complex128) wire {
	n := len(l.Path.Points)
	w := wire{points: make([]vec, n), currents: make([]complex128, n-1)}
	for i, p := range l.Path.Points {
		w.points[i] = vec{p.X, p.Y, -l.DepthM[i]}
		if i > 0 {
			w.currents[i-1] = amps((l.Path.Station(i) + l.Path.Station(i-1)) / 2)
		}
	}
	return w
}

// right returns the unit vector to the right of a direction.
func right(dir geo.XY) geo.XY { return geo.XY{X: dir.Y, Y: -dir.X} }

// beside returns the path at a distance to the right of the line (negative: to
// the left), mitred at corners, between two stations.
func (l Line) beside(fromM, toM float64, offsetM func(stationM float64) float64) []geo.XY {
	var out []geo.XY
	pts := l.Path.Points
	for i, p := range pts {
		s := l.Path.Station(i)
		if s < fromM || s > toM {
			continue
		}
		a, b := l.Path.Direction(s-1e-6), l.Path.Direction(s+1e-6)
		m := right(a).Add(right(b))
		off := offsetM(s)
		q := p.Add(m.Scale(2 * off / m.Dot(m)))
		if f := l.Path.NearestWithin(q, s-6, s+6); math.Abs(f.OffsetM) >= math.Abs(off)-0.02 {
			out = append(out, q)
		}
	}
	return out
}
