package tongue

import (
	"regexp"
	"strings"
	"unicode"
)

// The kinds of places in a template. A place is written {kind}, with a number
// behind it where a template has several of a kind: {m}, {m2}.
const (
	kindLength = "m"    // a length, with its unit and band: 3.4 ft ± 0.5
	kindNumber = "n"    // a bare figure
	kindRange  = "r"    // a stretch: 12.0 to 34.5 m
	kindDate   = "d"    // 2026-05-12
	kindName   = "name" // what the job calls something: never translated
	kindText   = "text" // what comes from elsewhere as it is: a datum, a file
	kindSay    = "say"  // a phrase, translated by itself
)

const lengthPattern = `(?:± )?[-−]?\d+(?:\.\d+)?(?: (?:mm|cm|km|m|ft|in))?(?: \d+ in)?(?: ± \d+(?:\.\d+)?(?: (?:cm|m|ft|in))?(?: \d+ in)?)?`

var (
	isLength = regexp.MustCompile(`^` + lengthPattern + `$`)
	isNumber = regexp.MustCompile(`^[-+−]?\d[\d.,/]*$`)
	isRange  = regexp.MustCompile(`^` + lengthPattern + ` to ` + lengthPattern + `$`)
	isDate   = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)
)

// unknown begins what stands in the place of a figure that is not known.
const unknown = "an unknown "

// fits translates what stands in a place, and reports whether it may stand there.
func (t *Speaker) fits(kind, span string) (string, bool) {
	if t.tries--; span == "" || t.tries < 0 {
		return "", false
	}
	switch kind {
	case kindLength:
		if strings.HasPrefix(span, unknown) {
			return t.phrase(span)
		}
		return span, isLength.MatchString(span)
	case kindNumber:
		if strings.HasPrefix(span, unknown) {
			return t.phrase(span)
		}
		return span, isNumber.MatchString(span)
	case kindRange:
		return strings.Replace(span, " to ", " a ", 1), isRange.MatchString(span)
	case kindDate:
		return span, isDate.MatchString(span)
	case kindName:
		// One of several words stands in quotes in a sentence.
		inner, ok := strings.CutPrefix(span, "'")
		inner, closed := strings.CutSuffix(inner, "'")
		return span, t.names[span] || ok && closed && t.names[inner]
	case kindText:
		return span, true
	}
	return t.phrase(span)
}

// wordless reports that a text has no word of a language: figures, units, codes.
func wordless(s string) bool {
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len(w) < 2 || strings.ToUpper(w) == w {
			continue
		}
		switch w {
		case "mm", "cm", "km", "ft", "in", "mA", "Hz", "kHz":
			continue
		}
		return false
	}
	return true
}
