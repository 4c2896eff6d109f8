package geo

import "math"

// LonLat is a geographic position in decimal degrees, east and north positive.
type LonLat struct{ LonDeg, LatDeg float64 }

// Valid reports whether the position is on the globe: finite, longitude in
// [-180, 180], latitude in [-90, 90].
func (p LonLat) Valid() bool {
	return math.Abs(p.LonDeg) <= 180 && math.Abs(p.LatDeg) <= 90
}

// XY is a position in a job's Plane, in metres: X east, Y north of its origin.
type XY struct{ X, Y float64 }

// Add returns p + q.
func (p XY) Add(q XY) XY { return XY{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p XY) Sub(q XY) XY { return XY{p.X - q.X, p.Y - q.Y} }

// Scale returns p times f.
func (p XY) Scale(f float64) XY { return XY{p.X * f, p.Y * f} }

// Dot returns the scalar product of p and q.
func (p XY) Dot(q XY) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of the vector product: positive where q lies
// to the left of p.
func (p XY) Cross(q XY) float64 { return p.X*q.Y - p.Y*q.X }

// SurelyWithin reports whether two directions clearly are within an acute angle, in radians, of
// each other, whose tangent is more than itself: most are, and it is told without the angle.
func (p XY) SurelyWithin(q XY, angle float64) bool {
	return math.Abs(p.Cross(q)) < angle*p.Dot(q)
}

// Norm returns the length of p in metres.
func (p XY) Norm() float64 { return hypot(p.X, p.Y) }

// Dist returns the distance from p to q in metres.
func (p XY) Dist(q XY) float64 { return hypot(p.X-q.X, p.Y-q.Y) }

// hypot is math.Hypot, to the last bit, of numbers that are finite: that one calls
// assembly, and lengths are asked for in every inner loop.
func hypot(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	if x < y {
		x, y = y, x
	}
	if x == 0 {
		return 0
	}
	y /= x
	return x * math.Sqrt(1+y*y)
}

// Lerp returns the point a fraction t of the way from p to q.
func (p XY) Lerp(q XY, t float64) XY {
	return XY{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}
}

// RoughKm is the great-circle distance on a sphere, good to half a percent:
// enough to tell a walk from another continent.
func RoughKm(a, b LonLat) float64 {
	const radiusKm = 6371.0
	rad := math.Pi / 180
	dlat, dlon := (b.LatDeg-a.LatDeg)*rad, (b.LonDeg-a.LonDeg)*rad
	h := math.Pow(math.Sin(dlat/2), 2) + math.Cos(a.LatDeg*rad)*math.Cos(b.LatDeg*rad)*math.Pow(math.Sin(dlon/2), 2)
	return 2 * radiusKm * math.Asin(math.Sqrt(math.Min(1, h)))
}
