package export

import (
	"encoding/xml"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentence gives a text its capital and its full stop.
func sentence(s string) string {
	s = capital(strings.TrimSpace(s))
	if s == "" || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// capital raises the first letter.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// trimFloat writes a number with at most the given decimals and no trailing
// zeros.
func trimFloat(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// baseName is the last element of a file name, whichever way it is separated:
// a map tells no folder of the machine that made it.
func baseName(name string) string {
	return name[strings.LastIndexAny(name, `/\`)+1:]
}

// xmlText escapes text for an element or an attribute; what XML 1.0 cannot hold
// becomes the replacement character.
func xmlText(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
