package geo

import (
	"math"
	"sort"
)

// Polyline is a path in the plane with its running length. It needs at least
// one point; a single point has length 0.
type Polyline struct {
	Points   []XY
	stations []float64 // metres from the first point, one a point
}

// NewPolyline measures a path. It keeps the slice.
func NewPolyline(points []XY) Polyline {
	st := make([]float64, len(points))
	for i := 1; i < len(points); i++ {
		st[i] = st[i-1] + points[i-1].Dist(points[i])
	}
	return Polyline{points, st}
}

// Length returns the length in metres.
func (l Polyline) Length() float64 {
	if len(l.stations) == 0 {
		return 0
	}
	return l.stations[len(l.stations)-1]
}

// Station returns the distance in metres from the start to vertex i.
func (l Polyline) Station(i int) float64 { return l.stations[i] }

// segment returns the index of the segment that holds the station.
func (l Polyline) segment(stationM float64) int {
	i := sort.SearchFloat64s(l.stations, stationM) - 1
	return max(0, min(i, len(l.Points)-2))
}

// At returns the point at a station, held to the ends.
func (l Polyline) At(stationM float64) XY {
	n := len(l.Points)
	if n == 1 || stationM <= 0 {
		return l.Points[0]
	}
	if stationM >= l.Length() {
		return l.Points[n-1]
	}
	i := l.segment(stationM)
	d := l.stations[i+1] - l.stations[i]
	if d == 0 {
		return l.Points[i]
	}
	return l.Points[i].Lerp(l.Points[i+1], (stationM-l.stations[i])/d)
}

// Direction returns the unit vector of travel at a station, or the zero vector
// where the line has no length.
func (l Polyline) Direction(stationM float64) XY {
	if len(l.Points) < 2 {
		return XY{}
	}
	for i := l.segment(stationM); i < len(l.Points)-1; i++ {
		if d := l.Points[i+1].Sub(l.Points[i]); d.Norm() > 0 {
			return d.Scale(1 / d.Norm())
		}
	}
	return XY{}
}

// Foot is the nearest place on a line to some point.
type Foot struct {
	StationM float64
	OffsetM  float64 // signed distance of the point: positive to the right of travel
	At       XY
	Segment  int
}

// Nearest returns the foot of q on the line, in O(vertices); for many calls on a
// long line see Index.
func (l Polyline) Nearest(q XY) Foot { return l.NearestWithin(q, math.Inf(-1), math.Inf(1)) }

// NearestWithin is Nearest over the segments that touch [fromM, toM].
func (l Polyline) NearestWithin(q XY, fromM, toM float64) Foot {
	best := Foot{OffsetM: math.Inf(1)}
	if len(l.Points) == 1 {
		return Foot{OffsetM: q.Dist(l.Points[0]), At: l.Points[0]}
	}
	for i := 0; i+1 < len(l.Points); i++ {
		if l.stations[i+1] < fromM || l.stations[i] > toM {
			continue
		}
		if f := l.FootOn(i, q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
			best = f
		}
	}
	return best
}

// FootOn returns the foot of q on one segment.
func (l Polyline) FootOn(i int, q XY) Foot {
	a, b := l.Points[i], l.Points[i+1]
	t := FootShare(a, b, q)
	at := a.Lerp(b, t)
	d := q.Dist(at)
	if b.Sub(a).Cross(q.Sub(a)) > 0 {
		d = -d
	}
	return Foot{l.stations[i] + t*(l.stations[i+1]-l.stations[i]), d, at, i}
}

// FootShare returns how far along ab the foot of q is, held to [0, 1]; 0 where a is b.
func FootShare(a, b, q XY) float64 {
	abX, abY := b.X-a.X, b.Y-a.Y
	n2 := abX*abX + abY*abY
	if n2 == 0 {
		return 0
	}
	return max(0, min(1, ((q.X-a.X)*abX+(q.Y-a.Y)*abY)/n2))
}

// Slice returns the part of the path between two stations, with the vertices
// between them.
func (l Polyline) Slice(fromM, toM float64) []XY {
	fromM, toM = math.Max(0, fromM), math.Min(l.Length(), toM)
	out := []XY{l.At(fromM)}
	for i, s := range l.stations {
		if s > fromM && s < toM {
			out = append(out, l.Points[i])
		}
	}
	return append(out, l.At(toM))
}
