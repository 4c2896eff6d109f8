package geo

import "math"

// obliqueStereographic is the double stereographic projection of the Netherlands
// and Romania (IOGP Geomatics Guidance Note 7-2, EPSG method 9809): the ellipsoid
// on a conformal sphere about the origin, and the sphere on a plane. Isometric
// latitudes stand for the note's powers of sines, which lose digits near a pole.
type obliqueStereographic struct {
	e, n       float64 // n stretches longitude on the conformal sphere
	shift      float64 // of the sphere's isometric latitude: half the log of the note's c
	radiusM    float64 // 2 R k0
	sin0, cos0 float64 // of the origin's latitude on the sphere
	lon0       float64 // radians
	fe, fn     float64 // metres
}

func newObliqueStereographic(el Ellipsoid, lat0Deg, lon0Deg, k0, feM, fnM float64) *obliqueStereographic {
	e2 := el.e2()
	lat0 := lat0Deg * math.Pi / 180
	s, c := math.Sincos(lat0)
	w := 1 - e2*s*s
	o := &obliqueStereographic{e: math.Sqrt(e2), lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM}
	o.radiusM = 2 * k0 * el.SemiMajorM * math.Sqrt(1-e2) / w // the mean radius is the root of both radii
	o.n = math.Sqrt(1 + e2*c*c*c*c/(1-e2))
	psi0 := o.n * isometric(lat0, o.e)
	sinChi := math.Tanh(psi0)
	o.shift = math.Log((o.n+s)*(1-sinChi)/((o.n-s)*(1+sinChi))) / 2
	o.sin0, o.cos0 = math.Tanh(psi0+o.shift), 1/math.Cosh(psi0+o.shift)
	return o
}

func (o *obliqueStereographic) forward(p LonLat) (eastM, northM float64) {
	psi := o.n*isometric(p.LatDeg*math.Pi/180, o.e) + o.shift
	sinChi, cosChi := math.Tanh(psi), 1/math.Cosh(psi)
	s, c := math.Sincos(o.n * math.Remainder(p.LonDeg*math.Pi/180-o.lon0, 2*math.Pi))
	b := 1 + sinChi*o.sin0 + cosChi*o.cos0*c
	return o.fe + o.radiusM*cosChi*s/b, o.fn + o.radiusM*(sinChi*o.cos0-cosChi*o.sin0*c)/b
}

func (o *obliqueStereographic) inverse(eastM, northM float64) LonLat {
	x, y := (eastM-o.fe)/o.radiusM, (northM-o.fn)/o.radiusM
	// With t the tangent of half the angle from the origin, its sine is 2t/(1+t²).
	t2 := x*x + y*y
	sinChi := ((1-t2)*o.sin0 + 2*y*o.cos0) / (1 + t2)
	dlon := math.Atan2(2*x, (1-t2)*o.cos0-2*y*o.sin0)
	lon := o.lon0 + dlon/o.n
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: fromIsometric((math.Atanh(sinChi)-o.shift)/o.n, o.e) * 180 / math.Pi,
	}
}
