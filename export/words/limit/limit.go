// Package limit words figures that are bounds: they are rounded up, for one that rounds to
// nothing would claim that everything shows.
package limit

import (
	"fmt"
	"math"

	"loamline.example/geo"
)

// Short words a short length within which something is.
func Short(u geo.Units, m float64) string {
	stepM := 0.01
	if u != geo.Metric {
		stepM = geo.InchM
	}
	return u.Short(max(1, math.Ceil(m/stepM-1e-6)) * stepM)
}

// Percent words a part of something likewise.
func Percent(part float64) string {
	return fmt.Sprintf("%.0f %%", max(1, math.Ceil(100*part-1e-6)))
}

// WholePercent is how far the factor of a logarithm is from one, never minus nothing.
func WholePercent(ln float64) float64 { return math.Round(100*math.Expm1(ln)) + 0 }

// TooDeepOrShallow says to which sides depths may be shown wrong, from the logarithms of the
// factors: of one to which they are not, no figure is told.
func TooDeepOrShallow(lnMost, lnLeast float64) string {
	deep, shallow := Percent(math.Expm1(lnMost))+" too deep", Percent(-math.Expm1(lnLeast))+" too shallow"
	switch {
	case !(lnLeast < 0):
		return deep
	case !(lnMost > 0):
		return shallow
	}
	return deep + " or " + shallow
}
