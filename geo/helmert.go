package geo

import "math"

// helmert is a published transformation between two geocentric frames with 7
// parameters, or with 14 where they change in time: at epoch t each is its value
// plus its rate times (t - epoch).
//
// Two sign conventions are in use for the same rotation, and mixing them up costs
// metres: coordinateFrame says which one the published numbers are in (EPSG methods
// 1032, 1056 and 9607), else they are position vector (1033, 1053 and 9606).
type helmert struct {
	code            int // EPSG code of the transformation
	coordinateFrame bool
	epoch           float64
	value, rate     parameters
}

// parameters are translations in metres, rotations in milliarcseconds and scale
// in parts per billion; as rates, a year.
type parameters struct{ tx, ty, tz, rx, ry, rz, scale float64 }

const masRad = math.Pi / 180 / 3600 / 1000

// shift returns how far the transformation moves a place at an epoch.
func (h helmert) shift(g geocentric, epoch float64) geocentric {
	dt := 0.0
	if h.epoch != 0 {
		dt = epoch - h.epoch
	}
	at := func(v, rate float64) float64 { return v + rate*dt }
	v, r := h.value, h.rate
	rx, ry, rz := at(v.rx, r.rx)*masRad, at(v.ry, r.ry)*masRad, at(v.rz, r.rz)*masRad
	if h.coordinateFrame {
		rx, ry, rz = -rx, -ry, -rz
	}
	s := at(v.scale, r.scale) * 1e-9
	k := 1 + s
	return geocentric{
		at(v.tx, r.tx) + s*g.x + k*(-rz*g.y+ry*g.z),
		at(v.ty, r.ty) + s*g.y + k*(rz*g.x-rx*g.z),
		at(v.tz, r.tz) + s*g.z + k*(-ry*g.x+rx*g.y),
	}
}

// forward transforms a place at an epoch (a decimal year).
func (h helmert) forward(g geocentric, epoch float64) geocentric {
	d := h.shift(g, epoch)
	return geocentric{g.x + d.x, g.y + d.y, g.z + d.z}
}

// inverse undoes forward to well below a micrometre.
func (h helmert) inverse(g geocentric, epoch float64) geocentric {
	from := g
	for range 4 {
		d := h.shift(from, epoch)
		from = geocentric{g.x - d.x, g.y - d.y, g.z - d.z}
	}
	return from
}

// masPerMicroradian turns rotations that are published in microradians.
const masPerMicroradian = 1e-6 / masRad

// The published transformations, as the EPSG Dataset v13.101 gives them; those of
// the frames with an old ellipsoid, and the null ones, as v10.076 does. Sources
// there: US National Geodetic Survey (NAD83), Natural Resources Canada (CSRS),
// IERS (ITRF), EUREF (ETRF; DHDN, MGI and S-JTSK by its members), ICSM (GDA),
// Ordnance Survey (OSGB36), NSGI (Amersfoort), swisstopo (CH1903), IGN of Belgium
// (BD72), LINZ (NZGD2000), GSI (JGD2011).
var (
	itrf2008ToITRF2014  = helmert{7790, false, 2010, parameters{-0.0016, -0.0019, -0.0024, 0, 0, 0, 0.02}, parameters{0, 0, 0.0001, 0, 0, 0, -0.03}}
	itrf2014ToITRF2020  = helmert{9991, false, 2015, parameters{0.0014, 0.0009, -0.0014, 0, 0, 0, 0.42}, parameters{0, 0.0001, -0.0002, 0, 0, 0, 0}}
	itrf2014ToNAD832011 = helmert{8970, true, 2010, parameters{1.0053, -1.90921, -0.54157, 26.78138, -0.42027, 10.93206, 0.36891}, parameters{0.00079, -0.0006, -0.00144, 0.06667, -0.75744, -0.05133, -0.07201}}
	itrf2014ToNAD83PA11 = helmert{10335, true, 2010, parameters{0.9109, -2.0129, -0.5863, 22.749, 26.56, -25.706, 2.12}, parameters{0.0001, 0.0001, -0.0019, -0.384, 1.007, -2.186, 0.11}}
	itrf2014ToNAD83MA11 = helmert{10337, true, 2010, parameters{0.9109, -2.0129, -0.5863, 28.711, 11.785, 4.417, 2.12}, parameters{0.0001, 0.0001, -0.0019, -0.02, 0.105, -0.347, 0.11}}
	itrf2014ToNAD83CSRS = helmert{8265, false, 2010, parameters{1.0053, -1.9092, -0.5416, -26.7814, 0.4203, -10.9321, 0.37}, parameters{0.0008, -0.0006, -0.0014, -0.0667, 0.7574, 0.0513, -0.07}}
	itrf2014ToETRF2000  = helmert{8405, false, 2010, parameters{0.0547, 0.0522, -0.0741, 1.701, 10.29, -16.632, 2.12}, parameters{0.0001, 0.0001, -0.0019, 0.081, 0.49, -0.792, 0.11}}
	itrf2014ToETRF2014  = helmert{8366, false, 1989, parameters{}, parameters{0, 0, 0, 0.085, 0.531, -0.77, 0}}
	itrf2020ToETRF2020  = helmert{10572, false, 1989, parameters{}, parameters{0, 0, 0, 0.086, 0.519, -0.753, 0}}
	itrf2014ToGDA2020   = helmert{8049, true, 2020, parameters{}, parameters{0, 0, 0, 1.50379, 1.18346, 1.20716, 0}}
	gda94ToGDA2020      = helmert{8048, true, 0, parameters{0.06155, -0.01087, -0.04019, -39.4924, -32.7221, -32.8979, -9.994}, parameters{}}
	osgb36ToWGS84       = helmert{1314, false, 0, parameters{446.448, -125.157, 542.06, 150, 247, 842, -20489}, parameters{}}
	amersfoortToETRS89  = helmert{9281, true, 0, parameters{565.7381, 50.4018, 465.2904, 1.91514 * masPerMicroradian, -1.60363 * masPerMicroradian, 9.09546 * masPerMicroradian, 4072.44}, parameters{}}
	ch1903PlusToETRS89  = helmert{1647, false, 0, parameters{674.374, 15.056, 405.346, 0, 0, 0, 0}, parameters{}}
	ch1903ToETRS89      = helmert{1646, false, 0, parameters{674.374, 15.056, 405.346, 0, 0, 0, 0}, parameters{}}
	dhdnToETRS89        = helmert{1776, false, 0, parameters{598.1, 73.7, 418.2, 202, 45, -2455, 6700}, parameters{}}
	sjtskToETRS89       = helmert{1622, false, 0, parameters{570.8, 85.7, 462.8, 4998, 1587, 5261, 3560}, parameters{}}
	mgiToETRS89         = helmert{1619, false, 0, parameters{577.326, 90.129, 463.919, 5137, 1474, 5297, 2423.2}, parameters{}}
	bd72ToETRS89        = helmert{15928, true, 0, parameters{-106.8686, 52.2978, -103.7239, -336.6, 457, -1842.2, -1274.7}, parameters{}}
	nzgd2000ToWGS84     = helmert{code: 1565}
	jgd2011ToWGS84      = helmert{code: 9936}
)
