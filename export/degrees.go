package export

import (
	"math"

	"github.com/paulmach/orb"

	"loamline/geo"
	"loamline/trace"
)

// maxEdgeM is the longest edge that is written. RFC 7946, 3.1.1, draws edges
// straight in longitude and latitude; against the straight line on the ground
// that is off by tan(latitude)·L²/8R: 0.2 mm at 45 degrees for 100 m.
const maxEdgeM = 100

// edgePieces is how many pieces an edge is written in.
func edgePieces(a, b geo.XY) int {
	return max(1, int(math.Ceil(a.Dist(b)/maxEdgeM-1e-9)))
}

// densePath adds vertices so that no edge is longer than maxEdgeM.
func densePath(path []geo.XY) []geo.XY {
	var out []geo.XY
	for i, q := range path {
		if i > 0 {
			n := edgePieces(path[i-1], q)
			for k := 1; k < n; k++ {
				out = append(out, path[i-1].Lerp(q, float64(k)/float64(n)))
			}
		}
		out = append(out, q)
	}
	return out
}

// degrees turns plane metres into rounded degrees. Longitudes run on across the
// antimeridian from the plane's origin, so that a job stays in one piece.
type degrees struct {
	plane     geo.Plane
	originLon float64
	seam      e8 // the antimeridian that a job can cross: 180 or -180
}

func newDegrees(plane geo.Plane) degrees {
	d := degrees{plane: plane, originLon: plane.Origin().LonDeg, seam: halfTurn}
	if d.originLon < 0 {
		d.seam = -halfTurn
	}
	return d
}

// geographic rounds a position. What lies within 2 mm of the antimeridian is
// put on it, so that the ends of a cut meet it exactly.
func (d degrees) geographic(ll geo.LonLat) lonLatE8 {
	lon := toE8(d.originLon + math.Remainder(ll.LonDeg-d.originLon, 360))
	if off := lon - d.seam; -2 <= off && off <= 2 {
		lon = d.seam
	}
	return lonLatE8{lon, toE8(ll.LatDeg)}
}

func (d degrees) xy(q geo.XY) lonLatE8 { return d.geographic(d.plane.LonLat(q)) }

// nearSeam reports whether a job can reach the antimeridian: its plane is good
// for some hundred kilometres, five degrees are more up to 80 degrees of latitude.
func (d degrees) nearSeam() bool {
	return math.Abs(d.originLon) > 175 || math.Abs(d.plane.Origin().LatDeg) > 80
}

// beyond reports whether a longitude lies on the far side of the antimeridian.
func (d degrees) beyond(lon e8) bool {
	if d.seam > 0 {
		return lon > d.seam
	}
	return lon < d.seam
}

// home brings a running longitude back into [-180, 180].
func (d degrees) home(lon e8) e8 {
	if !d.beyond(lon) {
		return lon
	}
	if d.seam > 0 {
		return lon - fullTurn
	}
	return lon + fullTurn
}

// path converts a path.
func (d degrees) path(path []geo.XY) []lonLatE8 {
	pts := make([]lonLatE8, len(path))
	for i, q := range path {
		pts[i] = d.xy(q)
	}
	return pts
}

// cutLine cuts a line where it crosses the antimeridian (RFC 7946, 3.1.9) and
// brings the pieces beyond it home.
func (d degrees) cutLine(pts []lonLatE8) [][]lonLatE8 {
	var out [][]lonLatE8
	var piece []lonLatE8
	far := false // side of the piece; the antimeridian itself belongs to both
	flush := func() {
		if len(piece) > 1 {
			if far {
				for i := range piece {
					piece[i].lon = d.otherSide(piece[i].lon)
				}
			}
			out = append(out, piece)
		}
		piece = nil
	}
	for i, p := range pts {
		if p.lon != d.seam {
			switch side := d.beyond(p.lon); {
			case len(piece) == 0 || allOn(piece, d.seam):
				far = side
			case side != far:
				cut := piece[len(piece)-1]
				if cut.lon != d.seam {
					cut = d.atSeam(pts[i-1], p)
					piece = append(piece, cut)
				}
				flush()
				piece, far = []lonLatE8{cut}, side
			}
		}
		piece = append(piece, p)
	}
	flush()
	return out
}

func allOn(pts []lonLatE8, lon e8) bool {
	for _, p := range pts {
		if p.lon != lon {
			return false
		}
	}
	return true
}

// running is the reverse of home.
func (d degrees) running(p lonLatE8) lonLatE8 {
	lon := e8(math.Round(d.originLon * 1e8))
	switch {
	case p.lon-lon > halfTurn:
		p.lon -= fullTurn
	case lon-p.lon > halfTurn:
		p.lon += fullTurn
	}
	return p
}

// otherSide brings a longitude of a piece beyond the antimeridian home, the
// antimeridian itself included.
func (d degrees) otherSide(lon e8) e8 {
	if d.seam > 0 {
		return lon - fullTurn
	}
	return lon + fullTurn
}

// atSeam is the place where the edge from a to b crosses the antimeridian.
func (d degrees) atSeam(a, b lonLatE8) lonLatE8 {
	t := float64(d.seam-a.lon) / float64(b.lon-a.lon)
	return lonLatE8{d.seam, a.lat + e8(math.Round(t*float64(b.lat-a.lat)))}
}

// splitAtAntimeridian splits the vertices of a part where they cross the
// antimeridian, with a vertex of interpolated values on both sides of the cut.
func splitAtAntimeridian(plane geo.Plane, vs []trace.Vertex) []trace.Part {
	d := newDegrees(plane)
	if !d.nearSeam() {
		return []trace.Part{{Vertices: vs}}
	}
	var out []trace.Part
	var piece []trace.Vertex
	var last lonLatE8 // of the vertex before
	far, sided := false, false
	for i, v := range vs {
		p := d.xy(v.Pos)
		if p.lon != d.seam {
			side := d.beyond(p.lon)
			if sided && side != far {
				cut := vs[i-1]
				if last.lon != d.seam {
					cut = lerpVertex(cut, v, float64(d.seam-last.lon)/float64(p.lon-last.lon))
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

// box is the bounding box in running longitudes.
type box struct {
	west, south, east, north e8
	set                      bool
}

func (b *box) add(p lonLatE8) {
	if !b.set {
		*b = box{p.lon, p.lat, p.lon, p.lat, true}
		return
	}
	b.west, b.east = min(b.west, p.lon), max(b.east, p.lon)
	b.south, b.north = min(b.south, p.lat), max(b.north, p.lat)
}

// orbXY is a plane position as orb holds it.
func orbXY(p orb.Point) geo.XY { return geo.XY{X: p[0], Y: p[1]} }
