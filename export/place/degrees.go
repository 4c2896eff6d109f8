package place

import (
	"math"

	"github.com/paulmach/orb"

	"loamline.example/geo"
	"loamline.example/trace"
)

// maxEdgeM is the longest edge that is written. RFC 7946, 3.1.1, draws edges
// straight in longitude and latitude; against the straight line on the ground
// that is off by tan(latitude)·L²/8R: 0.2 mm at 45 degrees for 100 m.
const maxEdgeM = 100

// EdgePieces is how many pieces an edge is written in.
func EdgePieces(a, b geo.XY) int {
	return max(1, int(math.Ceil(a.Dist(b)/maxEdgeM-1e-9)))
}

// DensePath adds vertices so that no edge is longer than maxEdgeM.
func DensePath(path []geo.XY) []geo.XY {
	out := make([]geo.XY, 0, len(path))
	for i, q := range path {
		if i > 0 {
			n := EdgePieces(path[i-1], q)
			for k := 1; k < n; k++ {
				out = append(out, path[i-1].Lerp(q, float64(k)/float64(n)))
			}
		}
		out = append(out, q)
	}
	return out
}

// Degrees turns plane metres into rounded degrees. Longitudes run on across the
// antimeridian from the plane's origin, so that a job stays in one piece.
type Degrees struct {
	Plane     geo.Plane
	originLon float64
	seam      E8 // the antimeridian that a job can cross: 180 or -180
}

func NewDegrees(plane geo.Plane) Degrees {
	d := Degrees{Plane: plane, originLon: plane.Origin().LonDeg, seam: halfTurn}
	if d.originLon < 0 {
		d.seam = -halfTurn
	}
	return d
}

// Geographic rounds a position. What lies within 2 mm of the antimeridian is
// put on it, so that the ends of a cut meet it exactly.
func (d Degrees) Geographic(ll geo.LonLat) LonLatE8 {
	lon := ToE8(d.originLon + math.Remainder(ll.LonDeg-d.originLon, 360))
	if off := lon - d.seam; -2 <= off && off <= 2 {
		lon = d.seam
	}
	return LonLatE8{lon, ToE8(ll.LatDeg)}
}

func (d Degrees) XY(q geo.XY) LonLatE8 { return d.Geographic(d.Plane.LonLat(q)) }

// nearSeam reports whether a job can reach the antimeridian: its plane is good
// for some hundred kilometres, five degrees are more up to 80 degrees of latitude.
func (d Degrees) nearSeam() bool {
	return math.Abs(d.originLon) > 175 || math.Abs(d.Plane.Origin().LatDeg) > 80
}

// beyond reports whether a longitude lies on the far side of the antimeridian.
func (d Degrees) beyond(lon E8) bool {
	if d.seam > 0 {
		return lon > d.seam
	}
	return lon < d.seam
}

// Home brings a running longitude back into [-180, 180].
func (d Degrees) Home(lon E8) E8 {
	if !d.beyond(lon) {
		return lon
	}
	if d.seam > 0 {
		return lon - fullTurn
	}
	return lon + fullTurn
}

// Path converts a path.
func (d Degrees) Path(path []geo.XY) []LonLatE8 {
	pts := make([]LonLatE8, len(path))
	for i, q := range path {
		pts[i] = d.XY(q)
	}
	return pts
}

// CutLine cuts a line where it crosses the antimeridian (RFC 7946, 3.1.9) and
// brings the pieces beyond it home.
func (d Degrees) CutLine(pts []LonLatE8) [][]LonLatE8 {
	var out [][]LonLatE8
	var piece []LonLatE8
	far := false // side of the piece; the antimeridian itself belongs to both
	flush := func() {
		if len(piece) > 1 {
			if far {
				for i := range piece {
					piece[i].Lon = d.otherSide(piece[i].Lon)
				}
			}
			out = append(out, piece)
		}
		piece = nil
	}
	for i, p := range pts {
		if p.Lon != d.seam {
			switch side := d.beyond(p.Lon); {
			case len(piece) == 0 || allOn(piece, d.seam):
				far = side
			case side != far:
				cut := piece[len(piece)-1]
				if cut.Lon != d.seam {
					cut = d.atSeam(pts[i-1], p)
					piece = append(piece, cut)
				}
				flush()
				piece, far = []LonLatE8{cut}, side
			}
		}
		piece = append(piece, p)
	}
	flush()
	return out
}

func allOn(pts []LonLatE8, lon E8) bool {
	for _, p := range pts {
		if p.Lon != lon {
			return false
		}
	}
	return true
}

// Running is the reverse of home.
func (d Degrees) Running(p LonLatE8) LonLatE8 {
	lon := E8(math.Round(d.originLon * 1e8))
	switch {
	case p.Lon-lon > halfTurn:
		p.Lon -= fullTurn
	case lon-p.Lon > halfTurn:
		p.Lon += fullTurn
	}
	return p
}

// otherSide brings a longitude of a piece beyond the antimeridian home, the
// antimeridian itself included.
func (d Degrees) otherSide(lon E8) E8 {
	if d.seam > 0 {
		return lon - fullTurn
	}
	return lon + fullTurn
}

// atSeam is the place where the edge from a to b crosses the antimeridian.
func (d Degrees) atSeam(a, b LonLatE8) LonLatE8 {
	t := float64(d.seam-a.Lon) / float64(b.Lon-a.Lon)
	return LonLatE8{d.seam, a.Lat + E8(math.Round(t*float64(b.Lat-a.Lat)))}
}

// SplitAtAntimeridian splits the vertices of a part where they cross the
// antimeridian, with a vertex of interpolated values on both sides of the cut.
func SplitAtAntimeridian(plane geo.Plane, vs []trace.Vertex) []trace.Part {
	d := NewDegrees(plane)
	if !d.nearSeam() {
		return []trace.Part{{Vertices: vs}}
	}
	var out []trace.Part
	var piece []trace.Vertex
	var last LonLatE8 // of the vertex before
	far, sided := false, false
	for i, v := range vs {
		p := d.XY(v.Pos)
		if p.Lon != d.seam {
			side := d.beyond(p.Lon)
			if sided && side != far {
				cut := vs[i-1]
				if last.Lon != d.seam {
					cut = cut.Lerp(v, float64(d.seam-last.Lon)/float64(p.Lon-last.Lon))
					piece = append(piece, cut)
				}
				out = append(out, trace.Part{Vertices: piece})
				piece = []trace.Vertex{cut}
			}
			far, sided = side, true
		}
		piece, last = append(piece, v), p
	}
	return append(out, trace.Part{Vertices: piece})
}

// Box is the bounding box in running longitudes.
type Box struct {
	West, South, East, North E8
	Set                      bool
}

func (b *Box) Add(p LonLatE8) {
	if !b.Set {
		*b = Box{p.Lon, p.Lat, p.Lon, p.Lat, true}
		return
	}
	b.West, b.East = min(b.West, p.Lon), max(b.East, p.Lon)
	b.South, b.North = min(b.South, p.Lat), max(b.North, p.Lat)
}

// orbXY is a plane position as orb holds it.
func orbXY(p orb.Point) geo.XY { return geo.XY{X: p[0], Y: p[1]} }
