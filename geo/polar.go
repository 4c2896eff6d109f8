package geo

import "math"

// polarStereographic is the stereographic projection about a pole (IOGP Geomatics
// Guidance Note 7-2, EPSG methods 9810, variant A, with a scale at the pole, and
// 9829, variant B, with a parallel of true scale).
type polarStereographic struct {
	e       float64
	radiusM float64 // from the pole where the isometric latitude is 0
	sign    float64 // 1 about the north pole, -1 about the south pole
	lon0    float64 // radians
	fe, fn  float64 // metres
}

// newPolarA takes the pole, +90 or -90, and the scale there.
func newPolarA(el Ellipsoid, poleDeg, lon0Deg, k0, feM, fnM float64) *polarStereographic {
	e := math.Sqrt(el.e2())
	return &polarStereographic{
		e: e, sign: math.Copysign(1, poleDeg), lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM,
		radiusM: 2 * k0 * el.SemiMajorM / math.Sqrt(math.Pow(1+e, 1+e)*math.Pow(1-e, 1-e)),
	}
}

// newPolarB takes the parallel of true scale, whose sign tells the pole.
func newPolarB(el Ellipsoid, latTrueDeg, lon0Deg, feM, fnM float64) *polarStereographic {
	p := newPolarA(el, latTrueDeg, lon0Deg, 1, feM, fnM)
	lat := math.Abs(latTrueDeg) * math.Pi / 180
	s := p.e * math.Sin(lat)
	p.radiusM = el.SemiMajorM * math.Cos(lat) / math.Sqrt(1-s*s) * math.Exp(isometric(lat, p.e))
	return p
}

func (o *polarStereographic) forward(p LonLat) (eastM, northM float64) {
	rho := o.radiusM * math.Exp(-o.sign*isometric(p.LatDeg*math.Pi/180, o.e))
	s, c := math.Sincos(math.Remainder(p.LonDeg*math.Pi/180-o.lon0, 2*math.Pi))
	return o.fe + rho*s, o.fn - o.sign*rho*c
}

func (o *polarStereographic) inverse(eastM, northM float64) LonLat {
	x, y := eastM-o.fe, -o.sign*(northM-o.fn)
	rho := math.Hypot(x, y)
	if rho == 0 {
		return LonLat{o.lon0 * 180 / math.Pi, o.sign * 90}
	}
	lon := o.lon0 + math.Atan2(x, y)
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: o.sign * fromIsometric(math.Log(o.radiusM/rho), o.e) * 180 / math.Pi,
	}
}
