package geo

import "math"

// transverseMercator is the Krüger n-series to sixth order (L. Krüger, 1912,
// Konforme Abbildung des Erdellipsoids in der Ebene; coefficients as printed in
// C. F. F. Karney, 2011, Transverse Mercator with an accuracy of a few
// nanometers, J. Geodesy 85, eqs. 35 and 36). Truncation is below 5 nm within
// 3900 km of the central meridian.
type transverseMercator struct {
	e           float64 // eccentricity
	rectifyingM float64 // k0 times the rectifying radius
	alpha, beta [6]float64
	delta       [6]float64 // of the latitude by the conformal one: K. Kawase, 2013, Bull. GSI 60:1
	lon0        float64    // radians
	xi0         float64    // rectifying latitude of the origin
	fe, fn      float64    // metres
}

func newTransverseMercator(el Ellipsoid, lat0Deg, lon0Deg, k0, feM, fnM float64) *transverseMercator {
	f := 1 / el.InverseFlattening
	n := f / (2 - f)
	n2 := n * n
	n3, n4 := n2*n, n2*n2
	n5, n6 := n4*n, n4*n2
	t := &transverseMercator{e: math.Sqrt(el.e2()), lon0: lon0Deg * math.Pi / 180, fe: feM, fn: fnM}
	t.rectifyingM = k0 * el.SemiMajorM / (1 + n) * (1 + n2/4 + n4/64 + n6/256)
	t.alpha = [6]float64{
		n/2 - 2*n2/3 + 5*n3/16 + 41*n4/180 - 127*n5/288 + 7891*n6/37800,
		13*n2/48 - 3*n3/5 + 557*n4/1440 + 281*n5/630 - 1983433*n6/1935360,
		61*n3/240 - 103*n4/140 + 15061*n5/26880 + 167603*n6/181440,
		49561*n4/161280 - 179*n5/168 + 6601661*n6/7257600,
		34729*n5/80640 - 3418889*n6/1995840,
		212378941 * n6 / 319334400,
	}
	t.beta = [6]float64{
		n/2 - 2*n2/3 + 37*n3/96 - n4/360 - 81*n5/512 + 96199*n6/604800,
		n2/48 + n3/15 - 437*n4/1440 + 46*n5/105 - 1118711*n6/3870720,
		17*n3/480 - 37*n4/840 - 209*n5/4480 + 5569*n6/90720,
		4397*n4/161280 - 11*n5/504 - 830251*n6/7257600,
		4583*n5/161280 - 108847*n6/3991680,
		20648693 * n6 / 638668800,
	}
	t.delta = [6]float64{
		2*n - 2*n2/3 - 2*n3 + 116*n4/45 + 26*n5/45 - 2854*n6/675,
		7*n2/3 - 8*n3/5 - 227*n4/45 + 2704*n5/315 + 2323*n6/945,
		56*n3/15 - 136*n4/35 - 1262*n5/105 + 73814*n6/2835,
		4279*n4/630 - 332*n5/35 - 399572*n6/14175,
		4174*n5/315 - 144838*n6/6237,
		601676 * n6 / 22275,
	}
	xi, _ := t.sphere(lat0Deg*math.Pi/180, 0)
	t.xi0, _ = t.series(xi, 0)
	return t
}

// sphere maps latitude and longitude difference to the transverse Mercator
// coordinates of the conformal sphere.
func (t *transverseMercator) sphere(lat, dlon float64) (xi, eta float64) {
	taup := conformalTan(math.Tan(lat), t.e)
	c := math.Cos(dlon)
	return math.Atan2(taup, c), math.Asinh(math.Sin(dlon) / hypot(taup, c))
}

func (t *transverseMercator) series(xi, eta float64) (float64, float64) {
	x, y := xi, eta
	for j, a := range t.alpha {
		k := 2 * float64(j+1)
		sin, cos := math.Sincos(k * xi)
		x += a * sin * math.Cosh(k*eta)
		y += a * cos * math.Sinh(k*eta)
	}
	return x, y
}

// back takes the series off again, summed by Clenshaw's rule (1955, MTAC 9:118): places are
// written by the hundred thousand, and the last bits show in none.
func (t *transverseMercator) back(xi, eta float64) (float64, float64) {
	sin, cos := math.Sincos(2 * xi)
	sinh := math.Sinh(2 * eta)
	cosh := hypot(1, sinh)
	twice := complex(2*cos*cosh, -2*sin*sinh) // the cosine of the complex angle, twice
	var b, after complex128
	for j := len(t.beta) - 1; j >= 0; j-- {
		b, after = complex(t.beta[j], 0)+twice*b-after, b
	}
	b *= complex(sin*cosh, cos*sinh)
	return xi - real(b), eta - imag(b)
}

func (t *transverseMercator) forward(p LonLat) (eastM, northM float64) {
	dlon := p.LonDeg*math.Pi/180 - t.lon0
	dlon = math.Remainder(dlon, 2*math.Pi)
	xi, eta := t.sphere(p.LatDeg*math.Pi/180, dlon)
	xi, eta = t.series(xi, eta)
	return t.fe + t.rectifyingM*eta, t.fn + t.rectifyingM*(xi-t.xi0)
}

func (t *transverseMercator) inverse(eastM, northM float64) LonLat {
	eta := (eastM - t.fe) / t.rectifyingM
	xi := (northM-t.fn)/t.rectifyingM + t.xi0
	xi, eta = t.back(xi, eta)
	sin, c := math.Sincos(xi)
	s := math.Sinh(eta)
	taup := sin / hypot(s, c)
	lon := t.lon0 + math.Atan2(s, c)
	return LonLat{
		LonDeg: math.Remainder(lon, 2*math.Pi) * 180 / math.Pi,
		LatDeg: geographicLatitude(math.Atan(taup), &t.delta) * 180 / math.Pi,
	}
}
