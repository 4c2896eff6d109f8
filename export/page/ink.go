package page

import (
	"math"
	"strconv"
)

// The two grounds that a line's dashes can lie on.
const (
	darkBase  = "#14181A"
	lightBase = "#FFFFFF"
)

// baseUnder is the ground on which a colour shows best, so that no theme and no
// background map can swallow a line's dashes.
func baseUnder(hex string) string {
	if contrast(hex, darkBase) > contrast(hex, lightBase) {
		return darkBase
	}
	return lightBase
}

// contrast is the contrast ratio of two colours, 1 to 21 (WCAG 2.1, "contrast
// ratio" and "relative luminance").
func contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// luminance is the relative luminance of "#RRGGBB"; anything else is black.
func luminance(hex string) float64 {
	if len(hex) != 7 {
		return 0
	}
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return 0
	}
	channel := func(shift uint) float64 {
		c := float64(v>>shift&255) / 255
		if c <= 0.03928 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(16) + 0.7152*channel(8) + 0.0722*channel(0)
}
