package geo

import "math"

// hotine is the Hotine oblique Mercator projection (IOGP Geomatics Guidance Note
// 7-2, EPSG methods 9812, variant A, and 9815, variant B), which Alaska's zone 1
// uses, and Switzerland's grid with an azimuth of 90 degrees. Variant A counts from
// the natural origin, variant B from the centre.
type hotine struct {
	e, a, b   float64 // a in metres
	sin0, co0 float64 // of the azimuth at the natural origin
	sinC, coC float64 // of the rectified to skew grid angle
	h         float64
	lon0      float64
	uc        float64
	fe, fn    float64
}

func newHotine(el Ellipsoid, latCDeg, lonCDeg, azimuthDeg, skewDeg, kC, feM, fnM float64, variantB bool) *hotine {
	e2 := el.e2()
	latC, lonC, alphaC := latCDeg*math.Pi/180, lonCDeg*math.Pi/180, azimuthDeg*math.Pi/180
	s, c := math.Sincos(latC)
	o := &hotine{e: math.Sqrt(e2), fe: feM, fn: fnM}
	o.b = math.Sqrt(1 + e2*c*c*c*c/(1-e2))
	o.a = el.SemiMajorM * o.b * kC * math.Sqrt(1-e2) / (1 - e2*s*s)
	d := math.Max(1, o.b*math.Sqrt(1-e2)/(c*math.Sqrt(1-e2*s*s)))
	f := d + math.Copysign(math.Sqrt(d*d-1), latC)
	o.h = f * math.Exp(-o.b*isometric(latC, o.e))
	g := (f - 1/f) / 2
	o.sin0 = math.Sin(alphaC) / d
	o.co0 = math.Sqrt(1 - o.sin0*o.sin0)
	if azimuthDeg == 90 {
		// The sine is 1 but for rounding, which the arc sine would blow up to decimetres.
		o.lon0 = lonC - math.Pi/2/o.b
	} else {
		o.lon0 = lonC - math.Asin(g*o.sin0/o.co0)/o.b
	}
	o.sinC, o.coC = math.Sincos(skewDeg * math.Pi / 180)
	if variantB {
		o.uc = math.Copysign(o.a/o.b*math.Atan2(math.Sqrt(d*d-1), math.Cos(alphaC)), latC)
	}
	return o
}

func (o *hotine) forward(p LonLat) (eastM, northM float64) {
	q := o.h * math.Exp(o.b*isometric(p.LatDeg*math.Pi/180, o.e))
	s, t := (q-1/q)/2, (q+1/q)/2
	dlon := o.b * math.Remainder(p.LonDeg*math.Pi/180-o.lon0, 2*math.Pi)
	v := math.Sin(dlon)
	w := (-v*o.co0 + s*o.sin0) / t
	vm := o.a * math.Log((1-w)/(1+w)) / (2 * o.b)
	um := o.a/o.b*math.Atan2(s*o.co0+v*o.sin0, math.Cos(dlon)) - o.uc
	return o.fe + vm*o.coC + um*o.sinC, o.fn + um*o.coC - vm*o.sinC
}

func (o *hotine) inverse(eastM, northM float64) LonLat {
	x, y := eastM-o.fe, northM-o.fn
	vm, um := x*o.coC-y*o.sinC, y*o.coC+x*o.sinC+o.uc
	q := math.Exp(-o.b * vm / o.a)
	s, t := (q-1/q)/2, (q+1/q)/2
	sinU, cosU := math.Sincos(o.b * um / o.a)
	w := (sinU*o.co0 + s*o.sin0) / t
	psi := math.Log(math.Sqrt((1+w)/(1-w))/o.h) / o.b
	lon := o.lon0 - math.Atan2(s*o.co0-sinU*o.sin0, cosU)/o.b
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: fromIsometric(psi, o.e) * 180 / math.Pi,
	}
}
