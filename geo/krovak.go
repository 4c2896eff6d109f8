package geo

import "math"

// krovak is the oblique conformal conic projection of Czechia and Slovakia with
// axes east and north (IOGP Geomatics Guidance Note 7-2, EPSG method 1041): the
// ellipsoid on a conformal sphere, whose cone stands about a tilted axis. All of
// both countries lies at negative eastings and northings.
type krovak struct {
	e, b       float64 // b stretches longitude on the conformal sphere
	shift      float64 // of the sphere's isometric latitude: log of the note's t0
	sinA, cosA float64 // of the co-latitude of the cone's axis
	n          float64 // of the cone
	radiusM    float64 // from the cone's tip where the isometric latitude about the axis is 0
	lon0       float64 // radians
	fe, fn     float64 // metres
}

func newKrovak(el Ellipsoid, latCDeg, lon0Deg, axisDeg, latPDeg, kP, feM, fnM float64) *krovak {
	e2 := el.e2()
	latC, latP := latCDeg*math.Pi/180, latPDeg*math.Pi/180
	s, c := math.Sincos(latC)
	k := &krovak{e: math.Sqrt(e2), n: math.Sin(latP), lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM}
	k.b = math.Sqrt(1 + e2*c*c*c*c/(1-e2))
	k.shift = math.Atanh(s/k.b) - k.b*isometric(latC, k.e)
	k.sinA, k.cosA = math.Sincos(axisDeg * math.Pi / 180)
	sphereM := el.SemiMajorM * math.Sqrt(1-e2) / (1 - e2*s*s)
	k.radiusM = kP * sphereM / math.Tan(latP) * math.Exp(k.n*isometric(latP, 0))
	return k
}

func (k *krovak) forward(p LonLat) (eastM, northM float64) {
	psi := k.b*isometric(p.LatDeg*math.Pi/180, k.e) + k.shift
	sinU, cosU := math.Tanh(psi), 1/math.Cosh(psi)
	sinV, cosV := math.Sincos(k.b * math.Remainder(k.lon0-p.LonDeg*math.Pi/180, 2*math.Pi))
	sinT := k.cosA*sinU + k.sinA*cosU*cosV
	// About the axis, the meridian through the origin is counted as 0.
	d := math.Atan2(cosU*sinV, k.cosA*cosU*cosV-k.sinA*sinU)
	rho := k.radiusM * math.Exp(-k.n*math.Atanh(sinT))
	s, c := math.Sincos(k.n * d)
	return -(rho*s + k.fe), -(rho*c + k.fn)
}

func (k *krovak) inverse(eastM, northM float64) LonLat {
	y, x := -eastM-k.fe, -northM-k.fn
	d := math.Atan2(y, x) / k.n
	iso := math.Log(k.radiusM/math.Hypot(x, y)) / k.n
	sinT, cosT := math.Tanh(iso), 1/math.Cosh(iso)
	sinD, cosD := math.Sincos(d)
	sinU := k.cosA*sinT - k.sinA*cosT*cosD
	v := math.Atan2(cosT*sinD, k.sinA*sinT+k.cosA*cosT*cosD)
	return LonLat{
		LonDeg: math.Remainder(k.lon0-v/k.b, 2*math.Pi) * 180 / math.Pi,
		LatDeg: fromIsometric((math.Atanh(sinU)-k.shift)/k.b, k.e) * 180 / math.Pi,
	}
}
