package jobs

import (
	"crypto/rand"
	"encoding/base32"
	"strings"
)

// idLength is the number of letters of an identifier: 130 random bits, so that
// the link to a job cannot be guessed.
const idLength = 26

var idLetters = base32.NewEncoding("abcdefghijkmnpqrstuvwxyz23456789").WithPadding(base32.NoPadding)

// newID returns a random identifier.
func newID() string {
	var b [17]byte
	rand.Read(b[:])
	return idLetters.EncodeToString(b[:])[:idLength]
}

// ValidID reports whether a text has the form of an identifier. Nothing else is
// ever made part of a path.
func ValidID(id string) bool {
	return len(id) == idLength && strings.Trim(id, "abcdefghijkmnpqrstuvwxyz23456789") == ""
}
