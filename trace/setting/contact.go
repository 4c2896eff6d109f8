package setting

import (
	"strings"

	"loamline.example/trace"
)

func checkContact(c trace.Contact) error {
	for _, d := range []struct{ key, value string }{{"contact.owner_phone", c.OwnerPhone}, {"contact.emergency_phone", c.Emergency}} {
		if d.value != "" && !callable(d.value) {
			return bad(d.key, "%q is not a number that a phone can call: write its digits, such as \"+1 555 555 0100\"", d.value)
		}
	}
	if n := len(c.Owner); n > MaxNameBytes {
		return bad("contact.owner", "a name of %d bytes, where %d are the most that a map can carry", n, MaxNameBytes)
	}
	return nil
}

// What a number to call has: the shortest emergency numbers have three digits (from
// memory), an international one with its extension some twenty, and signs between them.
const (
	leastPhoneDigits = 3
	mostPhoneBytes   = 40
)

// callable reports that a text is a number to call: digits, signs between them, and the
// extension that it may name.
func callable(s string) bool {
	digits := 0
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case !strings.ContainsRune("+-–./() #*,ext", r):
			return false
		}
	}
	return digits >= leastPhoneDigits && len(s) <= mostPhoneBytes
}
