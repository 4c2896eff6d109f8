package export

import (
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
