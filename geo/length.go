package geo

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The legal lengths of both feet. The international foot is 0.3048 m exactly
// and the US survey foot 1200/3937 m exactly (US Federal Register notice of
// 1 July 1959, 24 FR 5348).
const (
	FootM         = 0.3048
	USSurveyFootM = 1200.0 / 3937.0
	InchM         = 0.0254
)

// lengthUnits maps the spellings that ParseLength accepts to metres.
var lengthUnits = map[string]float64{
	"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1,
	"cm": 0.01, "mm": 0.001, "km": 1000,
	"ft": FootM, "foot": FootM, "feet": FootM, "'": FootM,
	"usft": USSurveyFootM,
	"in":   InchM, "inch": InchM, "inches": InchM, "\"": InchM,
}

// ParseLength reads a number and a unit, such as "18 in", "0.5 m" or "6in",
// and returns metres. A number without a unit is an error: a bare "18" could
// be inches or centimetres.
func ParseLength(s string) (float64, error) {
	t := strings.TrimSpace(s)
	i := 0
	for i < len(t) && strings.IndexByte("+-0123456789.eE", t[i]) >= 0 {
		i++
	}
	// "1 e" is no exponent: give letters back to the unit.
	for i > 0 && (t[i-1] == 'e' || t[i-1] == 'E') {
		i--
	}
	v, err := strconv.ParseFloat(t[:i], 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a length: write a number and a unit, such as \"18 in\" or \"0.45 m\"", s)
	}
	unit := strings.ToLower(strings.TrimSpace(t[i:]))
	m, ok := lengthUnits[unit]
	if !ok {
		if unit == "" {
			return 0, fmt.Errorf("%q has no unit: write m, cm, mm, ft or in behind the number", s)
		}
		if strings.HasPrefix(unit, ",") && strings.Count(t, ",") == 1 && !strings.Contains(t, ".") {
			return 0, fmt.Errorf("%q has a comma in its number: write %q if it is a decimal comma, and nothing between thousands", s, strings.Replace(t, ",", ".", 1))
		}
		return 0, fmt.Errorf("%q has the unknown unit %q: use m, cm, mm, ft or in", s, unit)
	}
	if math.IsInf(v*m, 0) {
		return 0, fmt.Errorf("%q is longer than any length", s)
	}
	return v * m, nil
}
