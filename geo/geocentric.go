package geo

import "math"

// geocentric is a position in metres from the centre of the Earth, x towards
// (0, 0), z towards the north pole.
type geocentric struct{ x, y, z float64 }

// toGeocentric converts a position and its height above the ellipsoid in metres
// (IOGP Geomatics Guidance Note 7-2, EPSG method 9602).
func (el Ellipsoid) toGeocentric(p LonLat, heightM float64) geocentric {
	sinLat, cosLat := math.Sincos(p.LatDeg * math.Pi / 180)
	sinLon, cosLon := math.Sincos(p.LonDeg * math.Pi / 180)
	nu := el.SemiMajorM / math.Sqrt(1-el.e2()*sinLat*sinLat)
	return geocentric{
		(nu + heightM) * cosLat * cosLon,
		(nu + heightM) * cosLat * sinLon,
		(nu*(1-el.e2()) + heightM) * sinLat,
	}
}

// fromGeocentric is the inverse of toGeocentric: Bowring's latitude (B. R.
// Bowring, 1976, Transformation from spatial to geographical coordinates, Survey
// Review 23), repeated until it stands still.
func (el Ellipsoid) fromGeocentric(g geocentric) (p LonLat, heightM float64) {
	e2, a := el.e2(), el.SemiMajorM
	b := a * math.Sqrt(1-e2)
	r := math.Hypot(g.x, g.y)
	beta := math.Atan2(g.z*a, r*b) // reduced latitude
	lat := 0.0
	for range 10 {
		s, c := math.Sincos(beta)
		next := math.Atan2(g.z+e2/(1-e2)*b*s*s*s, r-e2*a*c*c*c)
		if math.Abs(next-lat) < 1e-15 {
			break
		}
		lat = next
		beta = math.Atan2(math.Sqrt(1-e2)*math.Sin(lat), math.Cos(lat))
	}
	s, c := math.Sincos(lat)
	nu := a / math.Sqrt(1-e2*s*s)
	heightM = r*c + g.z*s - a*a/nu
	return LonLat{math.Atan2(g.y, g.x) * 180 / math.Pi, lat * 180 / math.Pi}, heightM
}
