package geo

import "math"

// lambert is the Lambert conformal conic projection (J. P. Snyder, 1987, Map
// Projections: A Working Manual, USGS Professional Paper 1395, eqs. 14-15 and
// 15-1 to 15-11; IOGP Geomatics Guidance Note 7-2, EPSG methods 9801 and 9802).
// Its cone is told by the isometric latitude, which keeps the formulas exact
// near the standard parallels.
type lambert struct {
	e, n   float64
	afM    float64 // radius of the parallel of isometric latitude 0
	rho0M  float64 // radius of the origin's parallel
	lon0   float64 // radians
	fe, fn float64 // metres
}

// newLambert2SP returns the conic with two standard parallels (EPSG 9802); the
// false easting and northing belong to the false origin.
func newLambert2SP(el Ellipsoid, lat0Deg, lon0Deg, lat1Deg, lat2Deg, feM, fnM float64) *lambert {
	e := math.Sqrt(el.e2())
	m := func(lat float64) float64 {
		s := e * math.Sin(lat)
		return math.Cos(lat) / math.Sqrt(1-s*s)
	}
	lat1, lat2 := lat1Deg*math.Pi/180, lat2Deg*math.Pi/180
	n := math.Sin(lat1)
	if lat1 != lat2 {
		n = math.Log(m(lat1)/m(lat2)) / (isometric(lat2, e) - isometric(lat1, e))
	}
	l := &lambert{e: e, n: n, lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM}
	l.afM = el.SemiMajorM * m(lat1) / n * math.Exp(n*isometric(lat1, e))
	l.rho0M = l.radius(lat0Deg * math.Pi / 180)
	return l
}

// newLambert1SP returns the conic with one standard parallel and a scale on it
// (EPSG 9801).
func newLambert1SP(el Ellipsoid, lat0Deg, lon0Deg, k0, feM, fnM float64) *lambert {
	l := newLambert2SP(el, lat0Deg, lon0Deg, lat0Deg, lat0Deg, feM, fnM)
	l.afM *= k0
	l.rho0M *= k0
	return l
}

func (l *lambert) radius(lat float64) float64 { return l.afM * math.Exp(-l.n*isometric(lat, l.e)) }

func (l *lambert) forward(p LonLat) (eastM, northM float64) {
	theta := l.n * math.Remainder(p.LonDeg*math.Pi/180-l.lon0, 2*math.Pi)
	rho := l.radius(p.LatDeg * math.Pi / 180)
	s, c := math.Sincos(theta)
	return l.fe + rho*s, l.fn + l.rho0M - rho*c
}

func (l *lambert) inverse(eastM, northM float64) LonLat {
	x, y := eastM-l.fe, l.rho0M-(northM-l.fn)
	if l.n < 0 { // a cone over the southern hemisphere
		x, y = -x, -y
	}
	rho := math.Copysign(math.Hypot(x, y), l.n)
	lon := l.lon0 + math.Atan2(x, y)/l.n
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: fromIsometric(-math.Log(rho/l.afM)/l.n, l.e) * 180 / math.Pi,
	}
}
