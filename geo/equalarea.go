package geo

import "math"

// equalArea is Lambert's azimuthal equal-area projection about a place between
// equator and pole (J. P. Snyder, 1987, Map Projections: A Working Manual, USGS
// Professional Paper 1395, eqs. 24-17 to 24-24; IOGP Geomatics Guidance Note 7-2,
// EPSG method 9820). It keeps areas, not angles: in Europe's system its metres
// differ from ground metres by up to a few per cent, by direction.
type equalArea struct {
	e, qPole   float64
	radiusM    float64 // of the authalic sphere
	d          float64 // makes the scale at the origin 1 in all directions
	sin0, cos0 float64 // of the origin's authalic latitude
	lon0       float64 // radians
	fe, fn     float64 // metres
}

func newEqualArea(el Ellipsoid, lat0Deg, lon0Deg, feM, fnM float64) *equalArea {
	l := &equalArea{e: math.Sqrt(el.e2()), lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM}
	l.qPole = l.q(1)
	l.radiusM = el.SemiMajorM * math.Sqrt(l.qPole/2)
	s, c := math.Sincos(lat0Deg * math.Pi / 180)
	l.sin0 = l.q(s) / l.qPole
	l.cos0 = math.Sqrt(1 - l.sin0*l.sin0)
	l.d = el.SemiMajorM * c / (math.Sqrt(1-el.e2()*s*s) * l.radiusM * l.cos0)
	return l
}

// q is Snyder's eq. 3-12 of the sine of a latitude: twice the area between
// equator and parallel, on an ellipsoid of axis 1, in a strip of one radian.
func (l *equalArea) q(sinLat float64) float64 {
	es := l.e * sinLat
	return (1 - l.e*l.e) * (sinLat/(1-es*es) + math.Atanh(es)/l.e)
}

// latitude finds the latitude of an authalic sine by Newton's method (Snyder's eq.
// 3-16).
func (l *equalArea) latitude(sinBeta float64) float64 {
	lat := math.Asin(math.Max(-1, math.Min(1, sinBeta)))
	for range 8 {
		s, c := math.Sincos(lat)
		w := 1 - l.e*l.e*s*s
		step := w * w / (2 * c) * (sinBeta*l.qPole - l.q(s)) / (1 - l.e*l.e)
		lat += step
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return lat
}

func (l *equalArea) forward(p LonLat) (eastM, northM float64) {
	sinB := l.q(math.Sin(p.LatDeg*math.Pi/180)) / l.qPole
	cosB := math.Sqrt(math.Max(0, 1-sinB*sinB))
	s, c := math.Sincos(math.Remainder(p.LonDeg*math.Pi/180-l.lon0, 2*math.Pi))
	b := l.radiusM * math.Sqrt(2/(1+l.sin0*sinB+l.cos0*cosB*c))
	return l.fe + b*l.d*cosB*s, l.fn + b/l.d*(l.cos0*sinB-l.sin0*cosB*c)
}

func (l *equalArea) inverse(eastM, northM float64) LonLat {
	x, y := (eastM-l.fe)/l.d, (northM-l.fn)*l.d
	half := math.Hypot(x, y) / (2 * l.radiusM) // the sine of half the angle from the origin
	cosC, sinByRho := 1-2*half*half, math.Sqrt(1-half*half)/l.radiusM
	lon := l.lon0 + math.Atan2(x*sinByRho, l.cos0*cosC-y*l.sin0*sinByRho)
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: l.latitude(cosC*l.sin0+y*sinByRho*l.cos0) * 180 / math.Pi,
	}
}
