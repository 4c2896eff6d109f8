package geo

import "github.com/paulmach/orb"

// Plane is the local metric frame of one job: a transverse Mercator projection
// centred on the job, with scale 1 on its own meridian. Its metres are ground
// metres on the ellipsoid to 1.3e-6 within 10 km of the origin.
type Plane struct {
	origin LonLat
	tm     *transverseMercator
}

// NewPlane returns the plane whose origin is at the given WGS 84 position.
func NewPlane(origin LonLat) Plane {
	return Plane{origin, newTransverseMercator(WGS84Ellipsoid, origin.LatDeg, origin.LonDeg, 1, 0, 0)}
}

// Origin returns the geographic position of (0, 0).
func (p Plane) Origin() LonLat { return p.origin }

// XY projects a geographic position; the error of the projection formulas is
// below a micrometre anywhere that a job can reach.
func (p Plane) XY(ll LonLat) XY {
	e, n := p.tm.forward(ll)
	return XY{e, n}
}

// LonLat is the inverse of XY.
func (p Plane) LonLat(xy XY) LonLat { return p.tm.inverse(xy.X, xy.Y) }

// LineString converts a path in the plane to longitude, latitude pairs.
func (p Plane) LineString(path []XY) orb.LineString {
	out := make(orb.LineString, len(path))
	for i, q := range path {
		out[i] = p.point(q)
	}
	return out
}

// MultiPolygon converts polygons in the plane (metres) to longitude, latitude.
func (p Plane) MultiPolygon(mp orb.MultiPolygon) orb.MultiPolygon {
	out := make(orb.MultiPolygon, len(mp))
	for i, poly := range mp {
		out[i] = make(orb.Polygon, len(poly))
		for j, ring := range poly {
			r := make(orb.Ring, len(ring))
			for k, pt := range ring {
				r[k] = p.point(XY{pt[0], pt[1]})
			}
			out[i][j] = r
		}
	}
	return out
}

func (p Plane) point(q XY) orb.Point {
	ll := p.LonLat(q)
	return orb.Point{ll.LonDeg, ll.LatDeg}
}
