package geo

import "math"

// projection converts between geographic positions in degrees and a grid in
// metres.
type projection interface {
	forward(LonLat) (eastM, northM float64)
	inverse(eastM, northM float64) LonLat
}

var _, _, _, _ projection = (*transverseMercator)(nil), (*lambert)(nil), (*hotine)(nil), webMercator{}
var _, _, _, _ projection = (*obliqueStereographic)(nil), (*polarStereographic)(nil), (*equalArea)(nil), (*krovak)(nil)

// webMercator is the spherical Mercator formula on WGS 84 latitudes (IOGP
// Geomatics Guidance Note 7-2, EPSG method 1024). It isn't conformal and its
// metres are stretched by 1/cos(latitude).
type webMercator struct{}

func (webMercator) forward(p LonLat) (eastM, northM float64) {
	a := WGS84Ellipsoid.SemiMajorM
	return a * p.LonDeg * math.Pi / 180, a * math.Asinh(math.Tan(p.LatDeg*math.Pi/180))
}

func (webMercator) inverse(eastM, northM float64) LonLat {
	a := WGS84Ellipsoid.SemiMajorM
	return LonLat{eastM / a * 180 / math.Pi, math.Atan(math.Sinh(northM/a)) * 180 / math.Pi}
}
