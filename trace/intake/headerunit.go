package intake

import (
	"regexp"
	"strings"
)

// unitWords are the units of length that a header may name, by how ours are called. A
// frequency in another unit is seen at once, and may be said to be in it.
var unitWords = map[string]string{
	"m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
	"mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
	"ft": "ft", "feet": "ft", "foot": "ft", "usft": "ft", "ftus": "ft", "sft": "ft",
	"in": "in", "inch": "in", "inches": "in",
}

// statedUnit finds a unit at the end of a header: "Depth (ft)", "depth [m]",
// "Depth, feet", "DEPTH_CM".
var statedUnit = regexp.MustCompile(`(?i)(?:^|[\s_,(\[/.-])([a-z]+)[)\]]?\.?$`)

// unitInHeader is the unit that a header names, "" for none.
func unitInHeader(header string) string {
	m := statedUnit.FindStringSubmatch(strings.TrimSpace(header))
	if m == nil {
		return ""
	}
	return unitWords[strings.ToLower(m[1])]
}

// otherUnit is the unit that a header names where a name of ours reads the column in
// another one, "" where they agree or one of them names none.
func otherUnit(header, ours string) string {
	i := strings.LastIndexByte(ours, '_')
	if i < 0 {
		return ""
	}
	reads, known := unitWords[ours[i+1:]]
	if says := unitInHeader(header); known && says != "" && says != reads {
		return says
	}
	return ""
}
