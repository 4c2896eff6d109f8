package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence gives a text its capital and its full stop.
func Sentence(s string) string { return Stopped(Capital(strings.TrimSpace(s))) }

// Stopped gives a text its full stop alone: what begins with the name of a line or a
// file begins as that is written.
func Stopped(s string) string {
	if s == "" || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// Capital raises the first letter.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
