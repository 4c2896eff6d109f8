package place

import (
	"math"

	"loamline.example/export/literal"
)

// DegreeDecimals is the precision of coordinates: 1e-8 degrees is 1.1 mm of
// latitude.
const DegreeDecimals = 8

// E8 is a coordinate in units of 1e-8 degrees. Rounding first and comparing
// whole numbers after makes rings close exactly.
type E8 int64

const (
	halfTurn E8 = 180e8
	fullTurn E8 = 360e8
)

func ToE8(deg float64) E8 { return E8(math.Round(deg * 1e8)) }

func (v E8) Deg() float64 { return float64(v) / 1e8 }

// LonLatE8 is a rounded position. Longitudes of one job run on across the
// antimeridian until the job is cut there.
type LonLatE8 struct{ Lon, Lat E8 }

// ShortDegreesText is DegreesText to a centimetre on the ground: what a rover can be
// set to, and no more than any position is worth.
func ShortDegreesText(v E8) string {
	const drop = 10
	half := int64(drop / 2)
	if v < 0 {
		half = -half
	}
	return string(literal.AppendFixed(nil, (int64(v)+half)/drop, DegreeDecimals-1))
}

// DegreesText writes degrees in full.
func DegreesText(v E8) string { return string(literal.AppendFixed(nil, int64(v), DegreeDecimals)) }
