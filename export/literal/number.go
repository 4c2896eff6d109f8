package literal

import (
	"math"
	"strconv"
	"strings"

	"loamline.example/trace"
)

// pow10 holds the powers of ten up to the finest precision.
var pow10 = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8}

// AppendReal writes a number with at least one and at most the given decimals,
// so that readers that guess types see a real; null where it is not finite.
func AppendReal(b []byte, v float64, decimals int) []byte {
	if !Finite(v) {
		return append(b, "null"...)
	}
	scaled := v * pow10[decimals]
	if math.Abs(scaled) > 1<<53 {
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	}
	n := int64(math.Round(scaled))
	b = AppendFixed(b, n, decimals)
	if n%int64(pow10[decimals]) == 0 {
		b = append(b, '.', '0')
	}
	return b
}

// AppendFixed writes n / 10^decimals without trailing zeros.
func AppendFixed(b []byte, n int64, decimals int) []byte {
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

// Finite reports whether a number can be written.
func Finite(v float64) bool { return v-v == 0 }

// Trim writes a number with at most the given decimals and no trailing
// zeros.
func Trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Round rounds as the GeoJSON does, so that formats agree.
func Round(v float64, decimals int) float64 {
	return math.Round(v*pow10[decimals]) / pow10[decimals]
}

func OrUnknown(list []*float64) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = trace.Unknown
		if v != nil {
			out[i] = *v
		}
	}
	return out
}

func NotNil(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
