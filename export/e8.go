package export

import "math"

// degreeDecimals is the precision of coordinates: 1e-8 degrees is 1.1 mm of
// latitude.
const degreeDecimals = 8

// e8 is a coordinate in units of 1e-8 degrees. Rounding first and comparing
// whole numbers after makes rings close exactly.
type e8 int64

const (
	halfTurn e8 = 180e8
	fullTurn e8 = 360e8
)

func toE8(deg float64) e8 { return e8(math.Round(deg * 1e8)) }

func (v e8) deg() float64 { return float64(v) / 1e8 }

// lonLatE8 is a rounded position. Longitudes of one job run on across the
// antimeridian until the job is cut there.
type lonLatE8 struct{ lon, lat e8 }

func degreesCell(v e8) string { return string(appendFixed(nil, int64(v), degreeDecimals)) }
