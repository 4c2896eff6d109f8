package geo

import "math"

// Ellipsoid is a reference ellipsoid.
type Ellipsoid struct {
	SemiMajorM        float64
	InverseFlattening float64
}

// Ellipsoids of the frames that loamline knows; defining constants as in the
// EPSG dataset (7030 WGS 84, 7019 GRS 1980, 7001 Airy 1830, 7004 Bessel 1841, 7022
// International 1924).
var (
	WGS84Ellipsoid    = Ellipsoid{6378137, 298.257223563}
	GRS80Ellipsoid    = Ellipsoid{6378137, 298.257222101}
	Airy1830          = Ellipsoid{6377563.396, 299.3249646}
	Bessel1841        = Ellipsoid{6377397.155, 299.1528128}
	International1924 = Ellipsoid{6378388, 297}
)

// e2 is the first eccentricity squared.
func (el Ellipsoid) e2() float64 {
	f := 1 / el.InverseFlattening
	return f * (2 - f)
}

// conformalTan returns the tangent of the conformal latitude from that of the
// geographic latitude; e is the eccentricity (C. F. F. Karney, 2011, Transverse
// Mercator with an accuracy of a few nanometers, J. Geodesy 85, eqs. 7 to 9).
func conformalTan(tau, e float64) float64 { return conformalTanOf(tau, hypot(1, tau), e) }

// conformalTanOf is conformalTan where the secant of the latitude is known.
func conformalTanOf(tau, sec, e float64) float64 {
	sigma := math.Sinh(e * math.Atanh(e*tau/sec))
	return tau*hypot(1, sigma) - sigma*sec
}

// geographicTan is the inverse of conformalTan by Newton's method (Karney, 2011,
// eqs. 19 to 21).
func geographicTan(taup, e float64) float64 {
	e2 := e * e
	tau := taup / (1 - e2)
	for range 8 {
		sec := hypot(1, tau)
		ti := conformalTanOf(tau, sec, e)
		d := (taup - ti) / hypot(1, ti) * (1 + (1-e2)*tau*tau) / ((1 - e2) * sec)
		tau += d
		if math.Abs(d) <= 1e-9*math.Max(1, math.Abs(tau)) { // the next step would be that of its square
			break
		}
	}
	return tau
}

// geographicLatitude is that of a conformal one, in radians: as geographicTan tells it, in a
// third of the time.
func geographicLatitude(conformal float64, series *[6]float64) float64 {
	sin, cos := math.Sincos(2 * conformal)
	var b, after float64
	for j := len(series) - 1; j >= 0; j-- {
		b, after = series[j]+2*cos*b-after, b
	}
	return conformal + sin*b
}

// isometric returns the isometric latitude in radians.
func isometric(latRad, e float64) float64 { return math.Asinh(conformalTan(math.Tan(latRad), e)) }

// fromIsometric is the inverse of isometric.
func fromIsometric(psi, e float64) float64 { return math.Atan(geographicTan(math.Sinh(psi), e)) }
