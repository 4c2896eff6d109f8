package literal

import (
	"encoding/xml"
	"strings"
)

// XML escapes text for an element or an attribute; what XML 1.0 cannot hold
// becomes the replacement character.
func XML(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
