package trace

import (
	"sort"

	"loamline.example/geo"
)

// Vertex is one point of a centerline. Bands are half-widths of the 95 % band
// of the true line, in metres, any suspected displacement included once a Sheet is
// finished; Unknown where nothing supports a value.
type Vertex struct {
	Pos           geo.XY
	StationM      float64 // from the start of the line, gaps included
	DepthM        float64 // ground to the centre of the conductor
	Depth95M      float64
	Horizontal95M float64 // whole band across the line
	Common95M     float64 // the part of it that is common to the whole walk
	ElevM         float64 // of the line's centre, where ground elevation is known
	Corner        bool    // an elbow: two straight or smooth runs meet here
}

// Lerp is the vertex a share u of the way from v to w; it is no elbow.
func (v Vertex) Lerp(w Vertex, u float64) Vertex {
	mix := func(x, y float64) float64 { return x + u*(y-x) }
	return Vertex{Pos: v.Pos.Lerp(w.Pos, u), StationM: mix(v.StationM, w.StationM),
		DepthM: mix(v.DepthM, w.DepthM), Depth95M: mix(v.Depth95M, w.Depth95M),
		Horizontal95M: mix(v.Horizontal95M, w.Horizontal95M), Common95M: mix(v.Common95M, w.Common95M),
		ElevM: mix(v.ElevM, w.ElevM)}
}

// Part is a traced stretch in travel order; it has at least two vertices.
type Part struct {
	Vertices []Vertex
	// StartAlong95M and EndAlong95M are how far its ends may lie beyond or short of where
	// they are drawn, along it: no reading but the last one tells where a line ends, however
	// well its course is known. 0 where the part ends at the line of another.
	StartAlong95M, EndAlong95M float64
	// Joins tells that it and the part before it meet, as where a branch was walked out
	// and back: what lies between that one's end and here is no gap.
	Joins bool
}

// FromM and ToM are the stations of the part's ends.
func (p Part) FromM() float64 { return p.Vertices[0].StationM }

// ToM is the station of the part's last vertex.
func (p Part) ToM() float64 { return p.Vertices[len(p.Vertices)-1].StationM }

// WithVertices are the vertices of a part with more of them at stations where none is so
// near.
func (p Part) WithVertices(nearM float64, at ...float64) []Vertex {
	vs := p.Vertices
	for _, s := range at {
		i := sort.Search(len(vs), func(i int) bool { return vs[i].StationM >= s })
		if i == 0 || i == len(vs) || vs[i].StationM-s < nearM || s-vs[i-1].StationM < nearM {
			continue
		}
		vs = append(vs[:i:i], append([]Vertex{vs[i-1].Lerp(vs[i], (s-vs[i-1].StationM)/(vs[i].StationM-vs[i-1].StationM))}, vs[i:]...)...)
	}
	return vs
}

// Path returns the positions of the vertices.
func (p Part) Path() []geo.XY {
	out := make([]geo.XY, len(p.Vertices))
	for i, v := range p.Vertices {
		out[i] = v.Pos
	}
	return out
}

// Centerline is the fitted line with its depth profile. More than one part
// means that stretches between them are not traced, or that a part joins one
// before it; stations run on across.
type Centerline struct {
	Parts []Part
	Notes []Remark // what people must know of the fit, such as a widened accuracy
}

// Way reports whether a station lies on the way from the end of a part to one that
// joins: the walk went back there, and nothing is buried along it.
func (c *Centerline) Way(stationM float64) bool {
	for k := 1; c != nil && k < len(c.Parts); k++ {
		if c.Parts[k].Joins && stationM > c.Parts[k-1].ToM() && stationM < c.Parts[k].FromM() {
			return true
		}
	}
	return false
}

// TracedM returns the length drawn as traced.
func (c *Centerline) TracedM() float64 {
	var sum float64
	for _, p := range c.Parts {
		sum += p.ToM() - p.FromM()
	}
	return sum
}

// Widest95M returns the widest horizontal band, Unknown where any part of it is
// not known.
func (c *Centerline) Widest95M() float64 {
	widest := 0.0
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if !Known(v.Horizontal95M) {
				return Unknown
			}
			widest = max(widest, v.Horizontal95M)
		}
	}
	return widest
}

// Polyline returns all vertices, gaps bridged, as one measured path. Its
// stations are the centerline's own.
func (c *Centerline) Polyline() geo.Polyline {
	var pts []geo.XY
	for _, p := range c.Parts {
		pts = append(pts, p.Path()...)
	}
	return geo.NewPolyline(pts)
}

// toldM is the least length along a line over which something is told, so that it
// can be seen on a map: half a pace to either side of a place (judgement).
const toldM = 0.8

// Stretch is the course from one station to another; what is shorter than can be seen
// on a map grows about its middle, within the line.
func (c *Centerline) Stretch(fromM, toM float64) (fromOnM, toOnM float64, path []geo.XY) {
	pl := c.Polyline()
	if short := toldM - (toM - fromM); short > 0 {
		end := pl.Length()
		fromM = min(max(fromM-short/2, 0), max(end-toldM, 0))
		toM = min(max(toM+short/2, fromM+toldM), end)
	}
	return fromM, toM, pl.Slice(fromM, toM)
}
