package export

import (
	"math"
	"strconv"
)

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

// pow10 holds the powers of ten up to the finest precision.
var pow10 = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8}

// appendReal writes a number with at least one and at most the given decimals,
// so that readers that guess types see a real; null where it is not finite.
func appendReal(b []byte, v float64, decimals int) []byte {
	if !finite(v) {
		return append(b, "null"...)
	}
	scaled := v * pow10[decimals]
	if math.Abs(scaled) > 1<<53 {
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	}
	n := int64(math.Round(scaled))
	b = appendFixed(b, n, decimals)
	if n%int64(pow10[decimals]) == 0 {
		b = append(b, '.', '0')
	}
	return b
}

// appendFixed writes n / 10^decimals without trailing zeros.
func appendFixed(b []byte, n int64, decimals int) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	unit := int64(pow10[decimals])
	b = strconv.AppendInt(b, n/unit, 10)
	frac := n % unit
	if frac == 0 {
		return b
	}
	b = append(b, '.')
	for frac > 0 {
		unit /= 10
		b = append(b, byte('0'+frac/unit))
		frac %= unit
	}
	return b
}
